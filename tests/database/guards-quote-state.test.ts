import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type QuoteState, quoteLifecycle } from '../../src/lifecycles/index.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { check, exclusion, type Refusal, refusalOf } from './guard-case.ts';
import { changeOrder, jobs } from './life-rows.ts';
import {
  acceptanceRow,
  accepted,
  declined,
  declineRow,
  draftRows,
  issued,
  issueRow,
  moveTo,
} from './quote-rows.ts';
import { race, run } from './race.ts';
import { agreementRow, id, ids, type Statement, sql, visitRow } from './rows.ts';
import { stock } from './stock.ts';

const states = Object.keys(quoteLifecycle.moves) as QuoteState[];

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

describe('the table of a quote’s life in the database is the program’s', () => {
  it('knows the same states', async () => {
    const known = await database.owner.query<{ state: string }>(
      'SELECT unnest(enum_range(NULL::quote_state_name))::text AS state',
    );
    expect(known.rows.map(({ state }) => state).sort()).toEqual([...states].sort());
  });

  const steps = states.flatMap((from) => states.map((to) => ({ from, to })));

  it.each(steps)('$from to $to is answered alike', async ({ from, to }) => {
    const allowed = Object.values(quoteLifecycle.moves[from]).includes(to);
    const refused = { sqlState: check, constraint: 'quote_state_moves' };
    expect(await takeStep(from, to)).toEqual(allowed ? undefined : refused);
  });
});

describe('answers that arrive together', () => {
  it('a yes and a no: the no waits for the yes, and is refused', async () => {
    const number = await issuedQuote();
    await race(database.owner, accepted(number), declined(number), 'commit', {
      sqlState: check,
      constraint: 'quote_decline_while_issued',
    });
  });

  it('a no and a yes: the yes waits for the no, and is refused', async () => {
    const number = await issuedQuote();
    await race(database.owner, declined(number), accepted(number), 'commit', {
      sqlState: check,
      constraint: 'quote_acceptance_while_issued',
    });
  });

  it('two yeses: one is recorded', async () => {
    const number = await issuedQuote();
    await race(database.owner, accepted(number), accepted(number), 'commit', {
      sqlState: check,
      constraint: 'quote_acceptance_while_issued',
    });
  });

  it('a yes that comes to nothing leaves the way free for the no', async () => {
    const number = await issuedQuote();
    await race(database.owner, accepted(number), declined(number), 'rollback', undefined);
  });
});

describe('bookings that arrive together', () => {
  const booking = (visit: number, day: string) => [
    visitRow({
      id: id(visit),
      technician_id: ids.technician,
      window_start: `${day}T18:00:00Z`,
      window_end: `${day}T20:00:00Z`,
    }),
  ];

  it('of one technician and window: the second waits for the first, and is refused', async () => {
    await race(database.owner, booking(440, '2026-09-01'), booking(441, '2026-09-01'), 'commit', {
      sqlState: exclusion,
      constraint: 'visit_one_live_work_per_technician',
    });
  });

  it('a booking that comes to nothing leaves the window to the next', async () => {
    await race(
      database.owner,
      booking(442, '2026-09-02'),
      booking(443, '2026-09-02'),
      'rollback',
      undefined,
    );
  });
});

describe('agreements of one site that arrive together', () => {
  const agreement = (number: number, startsOn: string, endsOn: string) => [
    agreementRow({ id: id(number), starts_on: startsOn, ends_on: endsOn }),
  ];

  it('on one day: the second waits for the first, and is refused', async () => {
    const first = agreement(450, '2031-01-01', '2032-01-01');
    await race(database.owner, first, agreement(451, '2031-12-31', '2032-12-31'), 'commit', {
      sqlState: exclusion,
      constraint: 'site_agreement_one_per_day',
    });
  });

  it('and one that comes to nothing leaves its days to the next', async () => {
    const days = ['2033-01-01', '2034-01-01'] as const;
    await race(
      database.owner,
      agreement(452, ...days),
      agreement(453, ...days),
      'rollback',
      undefined,
    );
  });
});

/**
 * One step of a new quote, with every paper on record, so that only the table decides. The papers
 * could not all be there in real life: the guards on them are away for this transaction.
 */
async function takeStep(from: QuoteState, to: QuoteState): Promise<Refusal | undefined> {
  const number = 350;
  const client = await database.owner.connect();
  try {
    await client.query('BEGIN');
    for (const table of ['quote_state', 'quote_issue', 'quote_acceptance', 'quote_decline']) {
      await client.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
    }
    const papers = [issueRow(number), acceptanceRow(number), declineRow(number)];
    const placed = sql('UPDATE quote_state SET state = $2::quote_state_name WHERE quote_id = $1', [
      id(number),
      from,
    ]);
    await run(client, [...draftRows({ number }), ...papers, placed]);
    await client.query('SET CONSTRAINTS ALL IMMEDIATE');
    await client.query('ALTER TABLE quote_state ENABLE TRIGGER USER');
    await run(client, [moveTo(number, to)]);
    return undefined;
  } catch (error) {
    return refusalOf(error);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}

let lastQuote = 360;

async function issuedQuote(): Promise<number> {
  lastQuote += 1;
  // A change order each, so that every one of them may be accepted.
  await committed([...changeOrder(jobs.agreed, lastQuote), ...issued(lastQuote)]);
  return lastQuote;
}

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
