import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { lastSealed, readEvents } from '../../src/board/read-events.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { buffersOf } from '../bench/buffers-of.ts';
import { fillDay } from '../bench/filled-day.ts';
import { addCustomers, addPastTickets, idOf } from '../bench/grown-company.ts';
import { rehearseStatements } from '../bench/servers/record-statements.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

/** Homes that the day measured is at. */
const homes = 5_000;

let database: TestDatabase;
let client: pg.Client;
beforeAll(async () => {
  database = await createTestDatabase();
  await loadBigCompany({ ownerUrl: database.url, tickets: 300, seed: 1, journal: false });
  client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  await addCustomers(client, homes);
  await fillDay(client);
}, 120_000);
afterAll(async () => {
  await client.end();
  await database.drop();
});

// Pages, not time: how busy the machine is does not count.
it('a change is told with as many pages beside much of the past as beside little', async () => {
  // A journal of fewer is read whole, which is cheap there and would be dear beside much.
  await addPast({ tickets: [0, 2_000], entries: 40_000 });
  const little = await told();
  await addCustomers(client, 8 * homes, homes);
  await addPast({ tickets: [2_000, 40_000], entries: 160_000 });
  const much = await told();
  expect(much.reached).toEqual(little.reached);
  expect(much.buffers / little.buffers, `${little.buffers} ${much.buffers}`).toBeLessThan(1.2);
}, 180_000);

interface Past {
  tickets: readonly [from: number, to: number];
  entries: number;
}

/** More of what is over: at the same homes, and in the journal. The triggers are off. */
async function addPast({ tickets: [from, to], entries }: Past): Promise<void> {
  await addPastTickets(client, { from, to, sites: homes });
  await client.query('SET session_replication_role = replica');
  await client.query(CHECKS, [from, to]);
  await client.query(CALL_BACKS, [from, to]);
  await client.query(ENTRIES, [entries, to]);
  await client.query(SEALS);
  await client.query('RESET session_replication_role');
  await client.query('VACUUM ANALYZE');
}

/** How many technicians the same changes reach each time, and the pages that takes. */
async function told(): Promise<{ reached: number[]; buffers: number }> {
  const { pool } = database.db;
  const from = await lastSealed(database.db);
  await client.query(CHANGES);
  while ((await sealJournal(pool)) > 0);
  const recorder = rehearseStatements();
  const { events } = await readEvents(database.db, from, 1_000);
  const tip = await lastSealed(database.db);
  const sent = recorder.take().filter(({ text }) => text.includes('journal_seal'));
  recorder.stop();
  // What is measured is a stretch that is full, or it would say nothing.
  expect([tip - from, events.length, sent.length]).toEqual([
    changesEach * kindsOfChange,
    changesEach * (kindsOfChange - 1),
    2,
  ]);
  const reached = (event: string) =>
    events.filter((each) => each.event === event && each.technicianIds.length === 1).length;
  const homes = ['site.changed', 'customer.changed', 'ticket.moved', 'phone_check.ended'];
  const all = homes.map(reached);
  expect(all).toEqual(homes.map(() => changesEach));
  return { reached: all, buffers: await buffersOf(client, sent) };
}

const changesEach = 40;
const kindsOfChange = 6;

// Of every past ticket one, and of every tenth a danger that nobody ever said was over.
const CHECKS = `
  INSERT INTO phone_check (id, ticket_id, run, script_version, language, started_at, started_by_id,
    outcome, danger_code, ended_at)
  SELECT ${idOf(20, 'n')}, t.id, 1, 'phone-1', 'en', t.created_at, t.created_by_id,
    CASE WHEN n % 10 = 0 THEN 'danger' ELSE 'not_solved' END, CASE WHEN n % 10 = 0 THEN 'gas' END,
    t.created_at
  FROM generate_series($1::int + 1, $2::int) n JOIN ticket t ON t.id = ${idOf(3, 'n')}`;

const CALL_BACKS = `
  INSERT INTO call_back (id, ticket_id, due_at, created_at)
  SELECT ${idOf(21, 'n')}, t.id, t.created_at, t.created_at
  FROM generate_series($1::int + 1, $2::int) n JOIN ticket t ON t.id = ${idOf(3, 'n')}`;

const ENTRIES = `
  INSERT INTO journal_entry (id, at, actor_kind, event, subject_kind, subject_id, changes)
  SELECT gen_random_uuid(), now(), 'system', event, kind, id::text, '{"before":{},"after":{}}'
  FROM (SELECT n, 1 + n % $2::int AS past FROM generate_series(1, $1::int) n) entry,
    LATERAL (VALUES
      (0, 'reading.recorded', 'reading', gen_random_uuid()),
      (1, 'visit.moved', 'visit', ${idOf(4, 'past')}),
      (2, 'ticket.moved', 'ticket', ${idOf(3, 'past')}),
      (3, 'phone_check.ended', 'phone_check', ${idOf(20, 'past')})) of (at, event, kind, id)
  WHERE of.at = n % 4`;

const SEALS = `
  INSERT INTO journal_seal (position, entry_id, hash)
  SELECT coalesce((SELECT max(position) FROM journal_seal), 0) + row_number() OVER (), e.id, 'past'
  FROM journal_entry e WHERE NOT EXISTS (SELECT 1 FROM journal_seal s WHERE s.entry_id = e.id)`;

// Of the day that is filled: every kind of change that is told of a home, one that is told of a visit,
// and one that concerns no board.
const CHANGES = `
  WITH live AS (SELECT v.id, v.ticket_id, t.site_id, s.occupant_id FROM visit v
      JOIN ticket t ON t.id = v.ticket_id JOIN site s ON s.id = t.site_id
      WHERE v.state = 'booked' ORDER BY v.id LIMIT ${changesEach}),
    checked AS (INSERT INTO phone_check (id, ticket_id, run, script_version, language, started_at,
        started_by_id)
      SELECT gen_random_uuid(), ticket_id, 1, 'phone-1', 'en', now(), t.created_by_id
      FROM live JOIN ticket t ON t.id = live.ticket_id
      ON CONFLICT DO NOTHING RETURNING id),
    checks AS (SELECT id FROM checked UNION
      SELECT p.id FROM phone_check p JOIN live ON live.ticket_id = p.ticket_id)
  INSERT INTO journal_entry (id, at, actor_kind, event, subject_kind, subject_id, changes)
  SELECT gen_random_uuid(), now(), 'system', of.event, of.kind, of.id::text, '{}' FROM (
    SELECT 'site.changed' AS event, 'site' AS kind, site_id AS id FROM live
    UNION ALL SELECT 'customer.changed', 'customer', occupant_id FROM live
    UNION ALL SELECT 'ticket.moved', 'ticket', ticket_id FROM live
    UNION ALL SELECT 'phone_check.ended', 'phone_check', id FROM checks
    UNION ALL SELECT 'visit.moved', 'visit', id FROM live
    UNION ALL SELECT 'reading.recorded', 'visit', id FROM live) of`;
