import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { addCustomers, addPastTickets } from '../bench/grown-company.ts';
import { searchBuffers } from '../bench/search-buffers.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

const customers = 5_000;
let database: TestDatabase;
let client: pg.Client;
beforeAll(async () => {
  database = await createTestDatabase();
  await loadBigCompany({ ownerUrl: database.url, tickets: 300, seed: 1, journal: false });
  client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  await addCustomers(client, customers);
}, 120_000);
afterAll(async () => {
  await client.end();
  await database.drop();
});

// Pages, not time: how busy the machine is does not count. A search that read past tickets, or a
// glance that read those of other sites, would touch many times as many.
it('twenty times as many past tickets do not make the database touch more pages for a caller', async () => {
  await addPastTickets(client, { from: 0, to: 1_000, sites: customers });
  const little = await searchBuffers(client, database.db);
  await addPastTickets(client, { from: 1_000, to: 20_000, sites: customers });
  const much = await searchBuffers(client, database.db);
  for (const [what, buffers] of Object.entries(much)) {
    expect(little[what], what).toBeGreaterThan(0);
    expect(
      buffers / (little[what] ?? 0),
      `${what}: ${little[what]}, then ${buffers}`,
    ).toBeLessThanOrEqual(1.2);
  }
}, 120_000);
