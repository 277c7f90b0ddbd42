import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bigCompany } from '../../seed/big-company/big-company.ts';
import { presentInstant } from '../../seed/big-company/calendar.ts';
import { loadBatch } from '../../seed/big-company/load-batch.ts';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { columns } from '../../seed/big-company/rows.ts';
import { scenarios } from '../../seed/big-company/scenarios.ts';
import { company, depot } from '../../seed/company.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { buildApp } from '../../src/app.ts';
import { isCarried } from '../../src/evidence/index.ts';
import { verifyJournal } from '../../src/journal/index.ts';
import { ticketLifecycle, visitLifecycle } from '../../src/lifecycles/index.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { pricingInputsSchema, pricingRulesets } from '../../src/pricing/index.ts';
import {
  checkReading,
  evidenceRulesets,
  evidenceRulesetVersionSchema,
  evidenceSchema,
  faultCodeSchema,
  nameplateSchema,
  readingSchema,
  remedyFor,
} from '../../src/trade/index.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { testPapers } from '../harness/test-papers.ts';

const tickets = 2_000;
let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await loadBigCompany({ ownerUrl: database.url, tickets, seed: 1, journal: true });
}, 120_000);
afterAll(() => database.drop());

// biome-ignore lint/suspicious/noExplicitAny: rows as SQL gives them; tests look at their columns.
async function rows(sql: string): Promise<any[]> {
  return (await database.owner.query(sql)).rows;
}

describe('a company of two thousand tickets, loaded past every guard of the database', () => {
  it('keeps every figure of a nameplate, none left out on the way', () => {
    const known: readonly string[] = columns.equipment;
    expect(nameplateSchema.keyof().options.filter((field) => !known.includes(field))).toEqual([]);
  });

  it('has the tickets asked for and something of every kind', async () => {
    const [counts] = await rows(`
      SELECT (SELECT count(*)::int FROM ticket) AS tickets,
        (SELECT count(DISTINCT state)::int FROM ticket) AS ticket_states,
        (SELECT count(DISTINCT state)::int FROM visit) AS visit_states,
        (SELECT count(DISTINCT state)::int FROM quote_state) AS quote_states,
        (SELECT count(DISTINCT fault_code)::int FROM finding) AS faults,
        (SELECT count(DISTINCT kind)::int FROM quote_line) AS line_kinds,
        (SELECT count(*)::int FROM finding_override) AS overrides,
        (SELECT count(*)::int FROM quote_revision WHERE number = 2) AS second_revisions`);
    expect(counts).toMatchObject({
      tickets,
      quote_states: 6,
      faults: new Set(scenarios.flatMap(({ findings }) => findings.map(({ fault }) => fault))).size,
    });
    expect(counts.ticket_states).toBeGreaterThanOrEqual(6);
    expect(counts.visit_states).toBeGreaterThanOrEqual(4);
    // All kinds but the adjustment, which a person makes by hand.
    expect(counts.line_kinds).toBe(8);
    expect(counts.overrides).toBeGreaterThan(0);
    expect(counts.second_revisions).toBeGreaterThan(0);
  });

  it('never has one technician in two windows at once, past windows included', async () => {
    const overlaps = await rows(`
      SELECT a.id FROM visit a JOIN visit b ON a.technician_id = b.technician_id AND a.id < b.id
        AND tstzrange(a.window_start, a.window_end) && tstzrange(b.window_start, b.window_end)`);
    expect(overlaps).toEqual([]);
  });

  it('asks the price the engine computes from the stored inputs, to the cent and to the word', async () => {
    const revisions = await rows(`
      SELECT r.inputs, r.ruleset_version, r.labor_rate_cents, r.decline_total_cents,
        json_agg(json_build_object('total', o.total_cents, 'tax', o.tax_cents, 'lines',
          (SELECT json_agg(json_build_array(l.key, l.amount_cents, l.why) ORDER BY l.position)
           FROM quote_line l WHERE l.option_id = o.id)) ORDER BY o.position) AS options
      FROM quote_revision r JOIN quote_option o ON o.revision_id = r.id GROUP BY r.id`);
    expect(revisions.length).toBeGreaterThan(1_000);
    for (const stored of revisions) {
      const ruleset = Object.values(pricingRulesets).find(
        ({ version }) => version === stored.ruleset_version,
      );
      const result = ruleset?.priceQuote(pricingInputsSchema.parse(stored.inputs));
      if (result?.outcome !== 'priced') throw new Error(JSON.stringify(result));
      expect(stored).toMatchObject({
        labor_rate_cents: result.quote.laborRateCents,
        decline_total_cents: result.quote.decline.totalCents,
      });
      const priced = result.quote.options.map(({ totalCents, taxCents, lines }) => ({
        total: totalCents,
        tax: taxCents,
        lines: lines.map(({ key, amountCents, why }) => [key, amountCents, why]),
      }));
      expect(stored.options).toEqual(JSON.parse(JSON.stringify(priced)));
    }
  });

  it('finds what the evidence rules find in the stored evidence', async () => {
    const findings = await rows('SELECT * FROM finding');
    expect(findings.length).toBeGreaterThan(1_000);
    for (const stored of findings) {
      const evidence = evidenceSchema.parse(stored.evidence);
      const ruleset = evidenceRulesets[evidenceRulesetVersionSchema.parse(stored.ruleset_version)];
      const verdict = ruleset.weigh(faultCodeSchema.parse(stored.fault_code), evidence);
      expect(stored.verdict).toEqual(verdict);
      expect(stored.standing).toBe(verdict.standing);
      const remedy = remedyFor(stored.fault_code, stored.task_code);
      if (remedy === undefined) throw new Error(`no remedy ${stored.task_code}`);
      expect(stored.remedy_class).toBe(remedy.remedyClass);
      expect(stored.priceable).toBe(isCarried(verdict.faultCode, remedy, evidence, verdict));
    }
  });

  it('has no reading that an instrument could not have shown', async () => {
    const readings = await rows(`
      SELECT id, equipment_id AS "equipmentId", quantity, point, value, unit, method, source, phase,
        to_char(taken_at, 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS "takenAt" FROM reading`);
    expect(readings.length).toBeGreaterThan(1_000);
    for (const reading of readings)
      expect(checkReading(readingSchema.parse(reading))).toBeUndefined();
  });

  it('has a journal that verifies to its end, with nothing left to seal', async () => {
    const report = await verifyJournal(database.owner);
    expect(report).toMatchObject({ faults: [], unsealed: 0 });
    expect(report.sealed).toBeGreaterThan(BigInt(tickets) * 10n);
  });

  it('moved every ticket and visit along its life only, step by step', async () => {
    const steps = await rows(`
      SELECT DISTINCT event, changes::json->'before'->>'state' AS "from",
        changes::json->'after'->>'state' AS "to"
      FROM journal_entry WHERE event IN ('ticket.moved', 'visit.moved')`);
    expect(steps.length).toBeGreaterThan(8);
    for (const { event, from, to } of steps) {
      const { moves } = event === 'ticket.moved' ? ticketLifecycle : visitLifecycle;
      const allowed: string[] = Object.values(
        (moves as Record<string, Record<string, string>>)[from] ?? {},
      );
      expect(allowed, `${event} from ${from}`).toContain(to);
    }
  });

  it('knows nothing of what comes after its present', async () => {
    const [latest] = await rows(`
      SELECT greatest((SELECT max(recorded_at) FROM reading), (SELECT max(found_at) FROM finding),
        (SELECT max(changed_at) FROM quote_state), (SELECT max(created_at) FROM ticket),
        (SELECT max(at) FROM journal_entry)) AS at`);
    const present = presentInstant(company.timeZone);
    expect(latest.at.getTime()).toBeLessThanOrEqual(present.getTime());
    expect(latest.at.getTime()).toBeGreaterThan(present.getTime() - 6 * 3_600_000);
  });

  it('reaches no real person: every phone is fictional and every address ends in example.com', async () => {
    const reachable = await rows(`
      SELECT name, phone, email FROM (SELECT name, phone, email FROM customer
        UNION ALL SELECT name, phone, email FROM staff) people
      WHERE phone !~ '555-01[0-9]{2}$' OR email !~ '@example[.]com$'`);
    expect(reachable).toEqual([]);
  });

  it('has every site on the map, within a morning of the depot', async () => {
    const far = await rows(`
      SELECT id FROM site WHERE NOT coalesce(abs(latitude_deg - ${depot.latitudeDeg}) < 0.2
        AND abs(longitude_deg - ${depot.longitudeDeg}) < 0.2, false)`);
    expect(far).toEqual([]);
  });

  it('is ready to be asked: the planner has its statistics', async () => {
    const unknown = await rows(`
      SELECT relname FROM pg_class JOIN pg_namespace n ON n.oid = relnamespace
      WHERE nspname = 'public' AND relkind = 'r' AND relname IN
        ('customer', 'site', 'equipment', 'ticket', 'visit', 'reading', 'quote', 'quote_line')
        AND (reltuples <= 0 OR NOT EXISTS (SELECT FROM pg_stats WHERE tablename = relname))`);
    expect(unknown).toEqual([]);
  });
});

describe('the program on a big company', () => {
  let app: FastifyInstance;
  let headers: { authorization: string };
  beforeAll(async () => {
    const clock = fixedClock();
    const log = pino({ level: 'silent' });
    const deps = { db: database.db, clock, ids: timedIds(clock), log, papers: testPapers() };
    const staff = await loadCompany(deps);
    headers = { authorization: `Bearer ${staff.owner.token}` };
    app = await buildApp(deps);
  });
  afterAll(() => app.close());

  it('shows its quotes and prints their papers', async () => {
    const issued = await rows(`
      SELECT quote_id FROM quote_state WHERE state IN ('accepted', 'declined') ORDER BY 1 LIMIT 4`);
    for (const { quote_id } of issued) {
      const quote = await app.inject({ url: `/v1/quotes/${quote_id}`, headers });
      expect(quote.statusCode, quote.body).toBe(200);
      const paper = await app.inject({ url: `/v1/quotes/${quote_id}/paper`, headers });
      expect(paper.statusCode, paper.body.slice(0, 200)).toBe(200);
      expect(paper.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
    }
  });

  it('counts on from the last ticket', async () => {
    const [site] = await rows('SELECT id FROM site ORDER BY id LIMIT 1');
    const opened = await app.inject({
      method: 'POST',
      url: '/v1/tickets',
      headers: { ...headers, 'idempotency-key': 'the-next-call' },
      payload: { siteId: site.id, complaint: 'It blows warm air.' },
    });
    expect(opened.json().number, opened.body).toBe(1_001 + tickets);
  });
});

describe('loading', () => {
  it('refuses a database that holds a company already', async () => {
    const again = loadBigCompany({ ownerUrl: database.url, tickets: 1, seed: 2, journal: false });
    await expect(again).rejects.toThrow('holds a company already');
  });

  it('is refused whole when one line of one quote is missing: no guard sleeps meanwhile', async () => {
    const empty = await createTestDatabase();
    const client = new pg.Client({ connectionString: empty.url });
    await client.connect();
    try {
      const [batch] = bigCompany({ tickets: 20, seed: 1, journal: false });
      if (batch === undefined) throw new Error('a company has at least one batch');
      batch.lines.quote_line.pop();
      await expect(loadBatch(client, batch)).rejects.toThrow('quote_option_line_count');
      const left = await client.query('SELECT FROM ticket');
      expect(left.rowCount).toBe(0);
    } finally {
      await client.end();
      await empty.drop();
    }
  });
});
