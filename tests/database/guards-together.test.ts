import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { attempt, check } from './guard-case.ts';
import {
  billedRows,
  cancellationRow,
  changeOrder,
  closedWith,
  jobOf,
  jobs,
  linesFor,
  paymentRow,
  quoteOf,
} from './life-rows.ts';
import { accepted, draftRows, issued } from './quote-rows.ts';
import { race, run } from './race.ts';
import { id, type Statement, sql } from './rows.ts';
import { stock } from './stock.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

describe('numbers of invoices drawn together', () => {
  it('by two who saw the same last number: the second waits, and is refused', async () => {
    const [one, two] = [jobOf(321), jobOf(322)];
    await committed([...closedWith(one), ...closedWith(two)]);
    await race(
      database.owner,
      billedRows(one, undefined, { number: 3 }),
      billedRows(two, undefined, { number: 3 }),
      'commit',
      { sqlState: check, constraint: 'invoice_issue_number_without_gap' },
    );
  });

  it('by one whose issue comes to nothing: its number goes to the next', async () => {
    const [one, two] = [jobOf(323), jobOf(324)];
    await committed([...closedWith(one), ...closedWith(two)]);
    await race(
      database.owner,
      billedRows(one, undefined, { number: 4 }),
      billedRows(two, undefined, { number: 4 }),
      'rollback',
      undefined,
    );
  });
});

describe('money that arrives together', () => {
  it('two payments of what is owed once: the second waits, and is refused', async () => {
    const pay = (number: number) => [
      paymentRow(jobs.owed, { id: id(number), amount_cents: 6_000 }),
    ];
    await race(database.owner, pay(1_401), pay(1_402), 'commit', {
      sqlState: check,
      constraint: 'payment_within_balance',
    });
  });
});

describe('yeses that arrive together', () => {
  it('to two quotes that sell the same work: the second waits, and is refused', async () => {
    const found = id(60_331);
    const other = draftRows({
      ...{ number: 332, options: [{ lines: linesFor(found) }] },
      quote: { ...quoteOf(jobs.agreed), parent_id: jobs.agreed.quote },
    });
    await committed([...changeOrder(jobs.agreed, 331), ...issued(331), ...other, ...issued(332)]);
    await race(database.owner, accepted(331), accepted(332), 'commit', {
      sqlState: check,
      constraint: 'quote_acceptance_sold_once',
    });
  });

  it('to a change order whose quote is taken back meanwhile: it waits, and is refused', async () => {
    await committed([...changeOrder(jobs.agreed, 333), ...issued(333)]);
    const takenBack = [
      cancellationRow(jobs.agreed),
      cancellationRow(jobs.agreed, { quote_id: id(331) }),
    ];
    await race(database.owner, takenBack, accepted(333), 'commit', {
      sqlState: check,
      constraint: 'quote_acceptance_of_standing_parent',
    });
  });
});

describe('a transaction that would not see who came before is refused', () => {
  const owed = [paymentRow(jobs.owed, { id: id(1_403), amount_cents: 1 })];

  it.each(['REPEATABLE READ', 'SERIALIZABLE'])('at %s, not at READ COMMITTED', async (level) => {
    const at = (name: string) => sql(`SET TRANSACTION ISOLATION LEVEL ${name}`);
    expect(await attempt(database.owner, [at(level), ...owed])).toEqual({
      sqlState: check,
      constraint: 'payment_of_issued_invoice',
    });
    expect(await attempt(database.owner, [at('READ COMMITTED'), ...owed])).toBeUndefined();
  });
});

async function committed(statements: Statement[]): Promise<void> {
  const client = await database.owner.connect();
  try {
    await client.query('BEGIN');
    await run(client, statements);
    await client.query('COMMIT');
  } finally {
    client.release();
  }
}
