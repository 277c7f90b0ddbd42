import pg from 'pg';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { findCallers } from '../../src/calls/find-callers.ts';
import { type Database, openDatabase, sqlOn } from '../../src/platform/database/database.ts';
import { APP_ROLE } from '../../src/platform/database/provide-database.ts';
import { createBenchDatabase } from './bench-database.ts';
import { addCustomers, addPastTickets } from './grown-company.ts';
import { type Percentiles, percentilesOf } from './percentiles.ts';
import { busySite, glance, searchBuffers, searches } from './search-buffers.ts';

/** What it takes to find a caller and see their site, beside so many past tickets. */
export interface SearchBench {
  customers: number;
  tickets: number;
  /** Pages of 8 kB touched, by what was looked for. */
  buffers: Record<string, number>;
  latencyMs: Record<string, Percentiles>;
  /** The least that any answer takes: a customer read by identifier, in the same run. */
  floorMs: Percentiles;
}

const CUSTOMERS = 100_000;
const SIZES = [10_000, 1_000_000] as const;
const ROUNDS = 100;

/** Measures with ten thousand past tickets and then, the customers the same, with a million. */
export async function benchSearch(): Promise<SearchBench[]> {
  const database = await createBenchDatabase();
  const client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  try {
    await loadBigCompany({ ownerUrl: database.url, tickets: 1_000, seed: 1, journal: false });
    await client.query('SET synchronous_commit = off');
    await addCustomers(client, CUSTOMERS);
    const measured: SearchBench[] = [];
    let from = 0;
    for (const tickets of SIZES) {
      await addPastTickets(client, { from, to: tickets, sites: CUSTOMERS });
      from = tickets;
      const db = await openDatabase({ url: database.url, poolMax: 4, role: APP_ROLE });
      measured.push({ customers: CUSTOMERS, tickets, ...(await measure(client, db)) });
      await db.close();
    }
    return measured;
  } finally {
    await client.end();
    await database.drop();
  }
}

async function measure(client: pg.Client, db: Database) {
  const buffers = await searchBuffers(client, db);
  const siteId = await busySite(client);
  const known = await db.prisma.customer.findFirstOrThrow({ select: { id: true } });
  const latencyMs: Record<string, Percentiles> = {};
  for (const [what, search] of Object.entries(searches)) {
    latencyMs[what] = await timed(() => findCallers(sqlOn(db.pool), search));
  }
  latencyMs['a site at a glance'] = await timed(() => glance(db, siteId));
  const floorMs = await timed(() => db.prisma.customer.findUnique({ where: { id: known.id } }));
  return { buffers, latencyMs, floorMs };
}

async function timed(work: () => Promise<unknown>): Promise<Percentiles> {
  await work();
  const taken: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    await work();
    taken.push(performance.now() - start);
  }
  return percentilesOf(taken);
}
