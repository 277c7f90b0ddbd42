import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sqlOf, type Tx } from '../../../src/platform/database/database.ts';
import { inTx } from '../../../src/platform/database/in-tx.ts';
import { violationOf } from '../../../src/platform/database/violation.ts';
import { draftRows, lineRow, moveTo, optionId } from '../../database/quote-rows.ts';
import {
  customerRow,
  findingRow,
  id,
  ids,
  type Statement,
  sealRow,
  siteRow,
  sql,
  staffRow,
  visitRow,
} from '../../database/rows.ts';
import { quotes, stock } from '../../database/stock.ts';
import { createTestDatabase, type TestDatabase } from '../../harness/test-database.ts';

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

/** One refusal of every kind, as the application's role meets it. */
const refusals: { kind: string; statements: Statement[]; sqlState: string; constraint?: string }[] =
  [
    {
      kind: 'a key that is taken',
      statements: [customerRow({ id: ids.customer })],
      sqlState: '23505',
      constraint: 'customer_pkey',
    },
    {
      kind: 'a reference that leads nowhere',
      statements: [siteRow({ payer_id: ids.nobody })],
      sqlState: '23503',
      constraint: 'site_payer_id_fkey',
    },
    {
      kind: 'a check',
      statements: [visitRow({ fee_cents: -1 })],
      sqlState: '23514',
      constraint: 'visit_fee_not_negative',
    },
    {
      kind: 'an exclusion',
      statements: [
        visitRow({ window_start: '2026-07-15T19:00:00Z', window_end: '2026-07-15T21:00:00Z' }),
      ],
      sqlState: '23P01',
      constraint: 'visit_one_live_work_per_technician',
    },
    {
      kind: 'a trigger',
      statements: [moveTo(quotes.draft, 'declined')],
      sqlState: '23514',
      constraint: 'quote_state_moves',
    },
    {
      kind: 'another trigger',
      statements: [sealRow({ position: 7 })],
      sqlState: '23514',
      constraint: 'journal_seal_without_gap',
    },
    {
      kind: 'a missing value',
      statements: [findingRow({ verdict: null })],
      sqlState: '23502',
    },
    {
      kind: 'a missing privilege',
      statements: [sql('DELETE FROM journal_entry')],
      sqlState: '42501',
    },
    {
      kind: 'a number out of range',
      statements: [visitRow({ fee_cents: '3000000000' })],
      sqlState: '22003',
    },
  ];

/** Refusals that come only when the transaction ends. */
const refusedAtCommit = [
  {
    kind: 'a sum',
    statements: draftRows({ number: 310, options: [{ says: { total_cents: 1 } }] }),
    sqlState: '23514',
    constraint: 'quote_option_adds_up',
  },
  {
    kind: 'a count',
    statements: [lineRow({ option_id: optionId(quotes.issued), position: 3 })],
    sqlState: '23514',
    constraint: 'quote_option_line_count',
  },
  {
    kind: 'a price without evidence',
    statements: draftRows({
      number: 310,
      options: [{ lines: [{ amount_cents: 100, finding_ids: [ids.unproven] }] }],
    }),
    sqlState: '23514',
    constraint: 'quote_line_needs_evidence',
  },
  {
    kind: 'a deferred reference',
    statements: draftRows({
      number: 310,
      options: [{ lines: [{ kind: 'discount', aimed_at: 'nothing', finding_ids: [] }] }],
    }),
    sqlState: '23503',
    constraint: 'quote_line_aim_within_option',
  },
];

const ways: { way: string; run: (tx: Tx, statement: Statement) => Promise<unknown> }[] = [
  { way: 'in plain SQL', run: (tx, { text, values }) => sqlOf(tx).query(text, values) },
  {
    way: 'in SQL through the typed client',
    run: (tx, statement) => tx.$executeRawUnsafe(literal(statement)),
  },
];

describe.each(ways)('a refusal $way', ({ run }) => {
  it.each(refusals)(
    'by $kind tells SQLSTATE and constraint',
    async ({ statements, ...expected }) => {
      expect(violationOf(await errorOf(statements, run))).toEqual(violationIn(expected));
    },
  );

  it.each(refusedAtCommit)(
    'at the commit, by $kind, tells SQLSTATE and constraint',
    async (refusal) => {
      const { statements, ...expected } = refusal;
      expect(violationOf(await errorOf(statements, run))).toEqual(violationIn(expected));
    },
  );
});

describe('a refusal of the typed client', () => {
  const at = new Date('2026-07-15T19:00:00Z');
  const site = {
    id: id(18),
    street: '3 Thistle Court',
    city: 'Wrenfield',
    region: 'QX',
    postalCode: '00000',
    jurisdiction: 'QX',
    occupantId: ids.customer,
    approverId: ids.customer,
    payerId: ids.customer,
    createdAt: at,
  };
  const visit = {
    id: id(49),
    ticketId: ids.ticket,
    technicianId: ids.technician,
    windowStart: new Date('2026-07-15T19:00:00Z'),
    windowEnd: new Date('2026-07-15T21:00:00Z'),
    periodCode: 'regular',
    feeCents: 8_900,
    feeAgreedBy: 'Winifred Ashgrove',
    feeAgreedAt: at,
    priceBookVersionId: ids.book,
    createdAt: at,
  };

  it.each([
    {
      kind: 'a key that is taken',
      refused: (tx: Tx) => tx.site.create({ data: { ...site, id: ids.site } }),
      expected: { sqlState: '23505', constraint: 'site_pkey' },
    },
    {
      kind: 'a reference that leads nowhere',
      refused: (tx: Tx) => tx.site.create({ data: { ...site, payerId: ids.nobody } }),
      expected: { sqlState: '23503', constraint: 'site_payer_id_fkey' },
    },
    {
      kind: 'a check',
      refused: (tx: Tx) => tx.site.create({ data: { ...site, approverLimitCents: -1 } }),
      expected: { sqlState: '23514', constraint: 'site_approver_limit_positive' },
    },
    {
      kind: 'an exclusion',
      refused: (tx: Tx) => tx.visit.create({ data: visit }),
      expected: { sqlState: '23P01', constraint: 'visit_one_live_work_per_technician' },
    },
    {
      kind: 'a trigger',
      refused: (tx: Tx) =>
        tx.quoteState.updateMany({
          where: { quoteId: id(quotes.draft) },
          data: { state: 'declined', version: { increment: 1 } },
        }),
      expected: { sqlState: '23514', constraint: 'quote_state_moves' },
    },
    {
      kind: 'a missing privilege',
      refused: (tx: Tx) => tx.journalEntry.deleteMany(),
      expected: { sqlState: '42501' },
    },
  ])(
    'by $kind tells SQLSTATE and constraint, inside a transaction and without',
    async (refusal) => {
      const { refused, expected } = refusal;
      const inside = await inTx<unknown>(database.db, refused).then(() => undefined, same);
      expect(violationOf(inside)).toEqual(expected);
      const outside = await refused(database.db.prisma).then(() => undefined, same);
      expect(violationOf(outside)).toEqual(expected);
    },
  );
});

describe('what the database did not refuse', () => {
  it.each([
    undefined,
    null,
    'duplicate key value',
    new Error('violates constraint "site_pkey"'),
    Object.assign(new Error('connect'), { code: 'ECONNREFUSED' }),
    Object.assign(new Error('Transaction already closed'), { code: 'P2028' }),
    new Error('outer', { cause: new Error('inner') }),
  ])('is no violation: %s', (error) => {
    expect(violationOf(error)).toBeUndefined();
  });

  it('is told apart when a record is not there', async () => {
    const missing = await database.db.prisma.staff
      .update({ where: { id: ids.nobody }, data: { name: 'nobody' } })
      .then(() => undefined, same);
    expect(missing).toMatchObject({ code: 'P2025' });
    expect(violationOf(missing)).toBeUndefined();
  });

  it('and a circle of causes ends', () => {
    const circle = new Error('a') as Error & { cause?: unknown };
    circle.cause = circle;
    expect(violationOf(circle)).toBeUndefined();
  });

  it('and after a refusal the next transaction is a fresh one', async () => {
    await errorOf([staffRow({ id: ids.owner })], (tx, { text, values }) =>
      sqlOf(tx).query(text, values),
    );
    expect(await inTx(database.db, (tx) => tx.staff.count())).toBe(3);
  });
});

function violationIn(expected: { sqlState: string; constraint?: string; kind: string }) {
  const { kind: _, ...violation } = expected;
  return violation;
}

async function errorOf(
  statements: Statement[],
  run: (tx: Tx, statement: Statement) => Promise<unknown>,
): Promise<unknown> {
  const work = async (tx: Tx) => {
    for (const statement of statements) await run(tx, statement);
  };
  return inTx(database.db, work).then(() => undefined, same);
}

function same(error: unknown): unknown {
  return error;
}

/** The statement with its values written into it: the client's raw call knows only some types. */
function literal({ text, values }: Statement): string {
  return text.replace(/\$(\d+)/g, (_, place: string) => written(values[Number(place) - 1]));
}

function written(value: unknown): string {
  if (value === null || value === undefined) return 'NULL';
  if (Buffer.isBuffer(value)) return `'\\x${value.toString('hex')}'`;
  if (Array.isArray(value)) return `'{${value.join(',')}}'`;
  return `'${String(value)}'`;
}
