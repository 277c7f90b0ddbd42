import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { readEvents } from '../../src/board/read-events.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { boardBuffers, lookAtBoard } from '../bench/board-buffers.ts';
import { buffersOf } from '../bench/buffers-of.ts';
import { fillDay, filledDay } from '../bench/filled-day.ts';
import { addCustomers, addPastTickets } from '../bench/grown-company.ts';
import { rehearseStatements } from '../bench/issue/record-statements.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

const sites = 5_000;
let database: TestDatabase;
let client: pg.Client;
beforeAll(async () => {
  database = await createTestDatabase();
  await loadBigCompany({ ownerUrl: database.url, tickets: 300, seed: 1, journal: false });
  client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  await addCustomers(client, sites);
  await fillDay(client);
}, 120_000);
afterAll(async () => {
  await client.end();
  await database.drop();
});

const sum = (touched: readonly { buffers: number }[]) =>
  touched.reduce((total, { buffers }) => total + buffers, 0);

// Pages, not time: how busy the machine is does not count.
it('twenty times as many past tickets do not make the database touch more pages for a board', async () => {
  await addPastTickets(client, { from: 0, to: 2_000, sites });
  const little = await boardBuffers(client, database.db);
  await addPastTickets(client, { from: 2_000, to: 40_000, sites });
  const much = await boardBuffers(client, database.db);
  const told = much.map(
    ({ text, buffers }, at) =>
      `${little[at]?.buffers} ${buffers} ${text.replace(/\s+/g, ' ').slice(0, 150)}`,
  );
  expect(sum(much) / sum(little), told.join('\n')).toBeLessThanOrEqual(1.2);
  // What is measured is a board that is full, or it would say nothing.
  const { columns, office } = await lookAtBoard(database.db);
  const visits = columns.flatMap((column) => column.visits);
  expect(visits).toHaveLength(filledDay.technicians * filledDay.visitsEach);
  expect(visits.filter(({ expected }) => expected !== null)).not.toEqual([]);
  expect(office?.waiting.length).toBeGreaterThanOrEqual(filledDay.waiting);
}, 120_000);

// The same company as above, with all its past tickets.
it('a change is told with a few pages for each entry of the journal, whatever it is of', async () => {
  await client.query(`
    INSERT INTO journal_entry (id, at, actor_kind, event, subject_kind, subject_id, changes)
    SELECT gen_random_uuid(), now(), 'system', of.event, of.kind, of.id::text, '{}' FROM (
      (SELECT 'site.changed' AS event, 'site' AS kind, t.site_id AS id FROM visit v
        JOIN ticket t ON t.id = v.ticket_id WHERE v.state = 'booked' LIMIT 50)
      UNION ALL
      (SELECT 'customer.changed', 'customer', s.occupant_id FROM visit v
        JOIN ticket t ON t.id = v.ticket_id JOIN site s ON s.id = t.site_id
        WHERE v.state = 'booked' LIMIT 50)
      UNION ALL (SELECT 'ticket.moved', 'ticket', v.ticket_id FROM visit v
        WHERE v.state = 'booked' LIMIT 50)
      UNION ALL (SELECT 'reading.recorded', 'visit', id FROM visit LIMIT 50)) of`);
  while ((await sealJournal(database.db.pool)) > 0);
  const recorder = rehearseStatements();
  const { events } = await readEvents(database.db, 0, 1_000);
  const sent = recorder.take().filter(({ text }) => text.includes('journal_seal'));
  recorder.stop();
  expect(events.filter(({ technicianIds }) => technicianIds.length > 0).length).toBeGreaterThan(90);
  expect(sent).toHaveLength(1);
  // Every entry is looked up, its household by index, and the visits there: about twenty pages.
  expect(await buffersOf(client, sent)).toBeLessThan(200 * 30);
}, 120_000);
