import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { boardBuffers, lookAtBoard } from '../bench/board-buffers.ts';
import { fillDay, filledDay } from '../bench/filled-day.ts';
import { addCustomers, addPastTickets } from '../bench/grown-company.ts';
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
