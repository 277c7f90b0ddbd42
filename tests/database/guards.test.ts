import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { answerCases } from './cases/answer-cases.ts';
import { auditCases } from './cases/audit-cases.ts';
import { boardCases } from './cases/board-cases.ts';
import { bookCases } from './cases/book-cases.ts';
import { claimCases } from './cases/claim-cases.ts';
import { closingCases } from './cases/closing-cases.ts';
import { consumerRuleCases } from './cases/consumer-rule-cases.ts';
import { deliveryCases } from './cases/delivery-cases.ts';
import { erasingCases } from './cases/erasing-cases.ts';
import { invoiceCases } from './cases/invoice-cases.ts';
import { journalCases } from './cases/journal-cases.ts';
import { linkCases } from './cases/link-cases.ts';
import { moneyCases } from './cases/money-cases.ts';
import { paperCases } from './cases/paper-cases.ts';
import { quoteCases } from './cases/quote-cases.ts';
import { recordCases } from './cases/record-cases.ts';
import { signInCases } from './cases/sign-in-cases.ts';
import { supplyCases } from './cases/supply-cases.ts';
import { tripCases } from './cases/trip-cases.ts';
import { workCases } from './cases/work-cases.ts';
import { attempt, type GuardCase, proveGuard, provenBy } from './guard-case.ts';
import { insertOnlyTables, livingTables as living } from './insert-only-tables.ts';
import { lineRow, optionId } from './quote-rows.ts';
import { entryRow, ids, type Row, type Statement, taxRuleRow, ticketRow } from './rows.ts';
import { quotes, stock } from './stock.ts';

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

describe('what is recorded', () => {
  it.each(titled(recordCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the owner’s book', () => {
  it.each(titled(bookCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('what a quote says', () => {
  it.each(titled(quoteCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the issue and the answer', () => {
  it.each(titled(answerCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('what suppliers bill and where it lies', () => {
  it.each(titled(supplyCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('links, follow-ups, change orders and what is taken back', () => {
  it.each(titled(linkCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('a trip and its fee', () => {
  it.each(titled(tripCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the work under a yes', () => {
  it.each(titled(workCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the closing and the callback', () => {
  it.each(titled(closingCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('claims at the maker', () => {
  it.each(titled(claimCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the invoice', () => {
  it.each(titled(invoiceCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the money', () => {
  it.each(titled(moneyCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('papers', () => {
  it.each(titled(paperCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('deliveries', () => {
  it.each(titled(deliveryCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the dispatcher’s day', () => {
  it.each(titled(boardCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the owner’s audit', () => {
  it.each(titled(auditCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('what a jurisdiction asks of quotes', () => {
  it.each(titled(consumerRuleCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('a person who is erased', () => {
  it.each(titled(erasingCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('how people sign in', () => {
  it.each(titled(signInCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));
});

describe('the journal', () => {
  it.each(titled(journalCases))('%s', (_, guardCase) => proveGuard(database.owner, guardCase));

  it('queues every entry for its seal', async () => {
    const { text, values } = entryRow({ id: ids.nobody });
    await database.owner.query(text, values);
    const queued = await database.owner.query('SELECT entry_id::text FROM journal_unsealed');
    expect(queued.rows).toContainEqual({ entry_id: ids.nobody });
  });
});

describe('lists', () => {
  it.each([
    { what: 'symptoms of a ticket', row: ticketRow, column: 'symptoms' },
    { what: 'classes of a tax rule', row: taxRuleRow, column: 'taxable_classes' },
    { what: 'findings of a line', row: lastLine, column: 'finding_ids' },
  ])('$what are an empty list, never unknown', async ({ row, column }) => {
    const unknown = await attempt(database.owner, [row({ [column]: null })]);
    expect(unknown?.sqlState).toBe('23502');
    const none = await attempt(database.owner, [row({ [column]: [] })]);
    expect(none?.sqlState).not.toBe('23502');
  });
});

// By position: a name given by `$title` would be cut short.
function titled(cases: GuardCase[]): [title: string, guardCase: GuardCase][] {
  return cases.map((guardCase) => [guardCase.title, guardCase]);
}

function lastLine(change: Row): Statement {
  return lineRow({ option_id: optionId(quotes.draft), position: 3, kind: 'visit_fee', ...change });
}

describe('no guard is forgotten', () => {
  const proven = new Set([
    ...[
      recordCases,
      bookCases,
      quoteCases,
      answerCases,
      supplyCases,
      journalCases,
      linkCases,
      paperCases,
      deliveryCases,
    ]
      .flat()
      .flatMap(provenBy),
    ...[
      auditCases,
      erasingCases,
      boardCases,
      tripCases,
      workCases,
      closingCases,
      claimCases,
      invoiceCases,
      moneyCases,
      consumerRuleCases,
      signInCases,
    ]
      .flat()
      .flatMap(provenBy),
    // Proven in guards-insert-only.test.ts, for every table of the list.
    ...insertOnlyTables.flatMap((table) => [`${table}_insert_only`, `${table}_never_emptied`]),
    ...living.map((table) => `${table}_never_emptied`),
    // Proven above: it refuses nothing.
    'journal_entry_queued',
    // Proven in first-closing.test.ts: it refuses nothing.
    'ticket_first_closing_noted',
    // Proven in stock-level.test.ts: it refuses nothing.
    'stock_move_kept_in_level',
  ]);

  it('every check, exclusion, trigger, partial unique index and own reference has its case', async () => {
    const guards = await database.owner.query<{ name: string }>(GUARDS);
    expect(guards.rows.length).toBeGreaterThan(100);
    expect(guards.rows.map(({ name }) => name).filter((name) => !proven.has(name))).toEqual([]);
  });

  it('every name a trigger refuses under has its case', async () => {
    const names = await database.owner.query<{ name: string }>(REFUSALS);
    expect(names.rows.length).toBeGreaterThan(10);
    expect(names.rows.map(({ name }) => name).filter((name) => !proven.has(name))).toEqual([]);
  });

  it('every guard function reads the real tables: its search path is its own, temporary tables last', async () => {
    const functions = await database.owner.query<{ name: string; path: string | null }>(FUNCTIONS);
    expect(functions.rows.length).toBeGreaterThan(8);
    for (const { name, path } of functions.rows) {
      expect(path, name).toBe('search_path=pg_catalog, public, pg_temp');
    }
  });
});

// References whose names Prisma gives are left to the drift test; ours are listed here.
const GUARDS = `
  SELECT DISTINCT conname AS name FROM pg_constraint
    WHERE connamespace = 'public'::regnamespace
      AND (contype IN ('c', 'x', 't') OR (contype = 'f' AND conname NOT LIKE '%\\_id\\_fkey'
        AND conname NOT IN ('paper_acceptance_of_fkey', 'paper_decline_of_fkey',
          'paper_file_sha256_fkey', 'visit_photo_sha256_fkey')))
  UNION
  SELECT tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
    WHERE c.relnamespace = 'public'::regnamespace AND NOT tgisinternal
  UNION
  SELECT i.indexrelid::regclass::text FROM pg_index i JOIN pg_class c ON c.oid = i.indrelid
    WHERE c.relnamespace = 'public'::regnamespace AND i.indisunique AND i.indpred IS NOT NULL
  ORDER BY name`;

const REFUSALS = `
  SELECT DISTINCT found[1] AS name
  FROM pg_proc, regexp_matches(prosrc, '(?:CONSTRAINT = |refuse[(])''([a-z_]+)''', 'g') AS found
  WHERE pronamespace = 'public'::regnamespace ORDER BY name`;

// Functions of extensions are left out.
const FUNCTIONS = `
  SELECT proname AS name, array_to_string(proconfig, '; ') AS path FROM pg_proc p
  WHERE pronamespace = 'public'::regnamespace AND NOT EXISTS (
    SELECT 1 FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e')
  ORDER BY proname`;
