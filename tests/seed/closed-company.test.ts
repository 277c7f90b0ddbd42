import pg from 'pg';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Batch } from '../../seed/big-company/batch.ts';
import { bigCompany } from '../../seed/big-company/big-company.ts';
import { loadBatch } from '../../seed/big-company/load-batch.ts';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { columns } from '../../seed/big-company/rows.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { buildApp } from '../../src/app.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { recalledFindings } from '../../src/visits/index.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { testPapers } from '../harness/test-papers.ts';

// biome-ignore lint/suspicious/noExplicitAny: rows as SQL gives them; tests look at their columns.
type Rows = any[];

async function rowsOf(database: TestDatabase, sql: string): Promise<Rows> {
  return (await database.owner.query(sql)).rows;
}

describe('the closed tickets of a company loaded past every guard of the database', () => {
  let database: TestDatabase;
  const rows = (sql: string) => rowsOf(database, sql);
  beforeAll(async () => {
    database = await createTestDatabase();
    await loadBigCompany({ ownerUrl: database.url, tickets: 1_200, seed: 5, journal: false });
  }, 120_000);
  afterAll(() => database.drop());

  it('each have their closing, their record of the work on paper, and an issued invoice', async () => {
    const [counts] = await rows(`
      SELECT count(*)::int AS closed, count(c.id)::int AS closings, count(s.invoice_id)::int AS issued,
        count(w.id)::int AS records, count(p.id)::int AS papers
      FROM ticket t LEFT JOIN ticket_closing c ON c.ticket_id = t.id AND c.sequence = 1
      LEFT JOIN invoice i ON i.closing_id = c.id LEFT JOIN invoice_issue s ON s.invoice_id = i.id
      LEFT JOIN paper w ON w.closing_id = c.id LEFT JOIN paper p ON p.invoice_id = i.id
      WHERE t.state = 'closed'`);
    const { closed, ...others } = counts;
    expect(closed).toBeGreaterThan(700);
    expect(others).toEqual({ closings: closed, issued: closed, records: closed, papers: closed });
  });

  it('come back now and then, without a fee, and are closed and billed a second time', async () => {
    const back = await rows(`
      SELECT b.id, v.fee_cents, c.sequence, s.total_cents FROM ticket_callback b
      LEFT JOIN visit v ON v.ticket_id = b.ticket_id AND v.purpose = 'callback'
      LEFT JOIN ticket_closing c ON c.ticket_id = b.ticket_id AND c.sequence = 2
      LEFT JOIN invoice i ON i.closing_id = c.id LEFT JOIN invoice_issue s ON s.invoice_id = i.id`);
    expect(back.length).toBeGreaterThan(10);
    expect(back.length).toBeLessThan(60);
    for (const each of back)
      expect(each).toMatchObject({ fee_cents: 0, sequence: 2, total_cents: 0 });
  });

  it('say of everything sold whether it was done, and which parts went in', async () => {
    const missing = await rows(`
      SELECT l.key FROM invoice_document d JOIN quote_line l ON l.option_id = d.option_id
      WHERE l.kind IN ('part', 'good') AND NOT EXISTS (SELECT FROM standing_outcome w
          WHERE w.quote_id = d.quote_id AND w.finding_id = ANY (l.finding_ids) AND w.outcome = 'not_done')
        AND coalesce(l.quantity, l.measured) IS DISTINCT FROM (SELECT sum(coalesce(u.quantity, u.measured))
          FROM part_use u WHERE u.quote_id = d.quote_id AND u.part_code = l.code)`);
    expect(missing).toEqual([]);
    const [outcomes] = await rows(`
      SELECT count(*) FILTER (WHERE outcome = 'done')::int AS done,
        count(*) FILTER (WHERE outcome = 'not_done')::int AS undone,
        count(*) FILTER (WHERE labor_warranty_until IS NOT NULL)::int AS warranted FROM work_outcome`);
    expect(outcomes.done).toBeGreaterThan(500);
    expect(outcomes.undone).toBeGreaterThan(0);
    expect(outcomes.warranted).toBe(outcomes.done);
  });

  it('weigh at least as much refrigerant into a system as they bill', async () => {
    const weighed = await rows(`
      SELECT u.measured * 16 AS billed_oz, m.before_oz - m.after_oz AS charged_oz FROM part_use u
      LEFT JOIN refrigerant_move m ON m.visit_id = u.visit_id AND m.direction = 'charged'
      WHERE u.measured IS NOT NULL`);
    expect(weighed.length).toBeGreaterThan(5);
    for (const { billed_oz, charged_oz } of weighed) {
      expect(Number(charged_oz)).toBeGreaterThanOrEqual(Number(billed_oz));
      expect(Number(charged_oz) - Number(billed_oz)).toBeLessThan(0.1);
    }
  });

  it('know when whoever was there left', async () => {
    const [visits] = await rows(`
      SELECT count(*)::int AS finished, count(left_at)::int AS left,
        count(*) FILTER (WHERE left_at > arrived_at)::int AS later
      FROM visit WHERE state = 'finished'`);
    expect(visits.left).toBe(visits.finished);
    expect(visits.later).toBe(visits.finished);
  });

  it('are mostly paid, with nothing left to pay of what is settled', async () => {
    const [money] = await rows(`
      SELECT count(*)::int AS bills, count(*) FILTER (WHERE s.state = 'settled')::int AS settled,
        count(*) FILTER (WHERE (s.state = 'settled') <> (i.total_cents
          = (SELECT coalesce(sum(amount_cents), 0) FROM payment WHERE invoice_id = i.invoice_id)))::int
          AS wrong
      FROM invoice_issue i JOIN invoice_state s USING (invoice_id)`);
    expect(money.wrong).toBe(0);
    expect(money.settled / money.bills).toBeGreaterThan(0.8);
    expect(money.settled).toBeLessThan(money.bills);
  });

  it('price a recall at nothing exactly where the program finds that its own work came back', async () => {
    const quotes = await rows(`
      SELECT q.visit_id, r.inputs, EXISTS (SELECT FROM finding f
          JOIN equipment e ON e.id = f.equipment_id JOIN equipment same ON same.system_id = e.system_id
          JOIN finding other ON other.equipment_id = same.id AND other.fault_code = f.fault_code
          WHERE f.visit_id = q.visit_id AND other.visit_id <> q.visit_id) AS twice
      FROM quote q JOIN quote_revision r ON r.quote_id = q.id`);
    let recalls = 0;
    const { pool: sql } = database.db;
    for (const { visit_id, inputs, twice } of quotes) {
      // Only what was found twice can have come back; asking for the others takes long.
      const found = twice ? await recalledFindings(sql, visit_id) : [];
      const ids = new Set(found.map(({ id }) => id));
      for (const { findingId, recall } of inputs.options.flatMap(
        ({ work }: { work: Rows }) => work,
      )) {
        expect(recall, findingId).toBe(ids.has(findingId));
        if (recall) recalls += 1;
      }
    }
    expect(recalls).toBeGreaterThan(5);
  });
});

describe.each([
  { life: 'ordinary', turns: 0 },
  { life: 'uncommon', turns: 0.7 },
])('the program, given the same work of an $life life unbilled', ({ turns }) => {
  let database: TestDatabase;
  let bills: ReadonlyMap<string, Rows>;
  beforeAll(async () => {
    database = await createTestDatabase();
    const client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
    await client.connect();
    const billed = new Map<string, Rows>();
    for (const batch of bigCompany({ tickets: 240, seed: 6, journal: false, turns }, 120)) {
      takeBills(batch, billed);
      await loadBatch(client, batch);
    }
    await client.query('ANALYZE');
    await client.end();
    bills = billed;
  }, 120_000);
  afterAll(() => database.drop());

  it('drafts every bill as it was written, line for line and to the cent', async () => {
    const clock = fixedClock();
    const log = pino({ level: 'silent' });
    const deps = { db: database.db, clock, ids: timedIds(clock), log, papers: testPapers() };
    const staff = await loadCompany(deps);
    const app = await buildApp(deps);
    const headers = { authorization: `Bearer ${staff.dispatcher.token}` };
    try {
      const drafts = await rowsOf(database, 'SELECT id FROM invoice ORDER BY id');
      expect(drafts.length).toBeGreaterThan(130);
      for (const { id } of drafts) {
        const drafted = await app.inject({ url: `/v1/invoices/${id}`, headers });
        const lines = drafted
          .json()
          .documents.flatMap(({ lines: own }: { lines: Rows }, at: number) =>
            own.map(({ key, amountCents }) => `${at + 1} ${key} ${amountCents}`),
          );
        expect(lines, id).toEqual(bills.get(id) ?? []);
      }
    } finally {
      await app.close();
    }
  }, 60_000);
});

/** Takes the bills out of a batch, and keeps their lines by invoice. */
function takeBills(batch: Batch, bills: Map<string, Rows>): void {
  const at = (name: (typeof columns.invoice_line)[number]) => columns.invoice_line.indexOf(name);
  for (const line of batch.lines.invoice_line) {
    const cells = line.trimEnd().split('\t');
    const id = cells[at('invoiceId')] ?? '';
    const told = [cells[at('document')], cells[at('key')], cells[at('amountCents')]].join(' ');
    bills.set(id, [...(bills.get(id) ?? []), told]);
  }
  for (const table of BILLED) batch.lines[table] = [];
  const isOfBill = (line: string) => ['invoice', 'credit_memo'].includes(line.split('\t')[1] ?? '');
  batch.lines.paper = batch.lines.paper.filter((line) => !isOfBill(line));
  batch.invoiceSteps = [];
}

const BILLED = [
  ...(['invoice_issue', 'invoice_document', 'invoice_line', 'payment'] as const),
  ...(['credit_memo', 'credit_memo_line'] as const),
];
