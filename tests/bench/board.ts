import pg from 'pg';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { APP_ROLE } from '../../src/platform/database/provide-database.ts';
import { createBenchDatabase } from './bench-database.ts';
import { boardBuffers, lookAtBoard } from './board-buffers.ts';
import { fillDay } from './filled-day.ts';
import { addCustomers, addPastTickets } from './grown-company.ts';
import { type Percentiles, percentilesOf } from './percentiles.ts';

/** What it takes to look at a full board, beside so many past tickets. */
export interface BoardBench {
  tickets: number;
  visits: number;
  waiting: number;
  statements: number;
  /** Pages of 8 kB touched by all of them. */
  buffers: number;
  latencyMs: Percentiles;
  /** The same statements sent one after the other, nothing made of their answers. */
  floorMs: Percentiles;
}

const CUSTOMERS = 100_000;
const SIZES = [10_000, 1_000_000] as const;
const ROUNDS = 60;

/** Measures with ten thousand past tickets and then, the day the same, with a million. */
export async function benchBoard(): Promise<BoardBench[]> {
  const database = await createBenchDatabase();
  const client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  try {
    await loadBigCompany({ ownerUrl: database.url, tickets: 1_000, seed: 1, journal: false });
    await client.query('SET synchronous_commit = off');
    await addCustomers(client, CUSTOMERS);
    await fillDay(client);
    const measured: BoardBench[] = [];
    let from = 0;
    for (const tickets of SIZES) {
      await addPastTickets(client, { from, to: tickets, sites: CUSTOMERS });
      from = tickets;
      measured.push({ tickets, ...(await measure(client, database.url)) });
    }
    return measured;
  } finally {
    await client.end();
    await database.drop();
  }
}

async function measure(client: pg.Client, url: string) {
  const db = await openDatabase({ url, poolMax: 4, role: APP_ROLE });
  try {
    const touched = await boardBuffers(client, db);
    const latencyMs = await timed(() => lookAtBoard(db));
    const floorMs = await timed(async () => {
      for (const { text, values } of touched) await db.pool.query(text, [...values]);
    });
    const { columns, office } = await lookAtBoard(db);
    return {
      visits: columns.flatMap((column) => column.visits).length,
      waiting: office?.waiting.length ?? 0,
      statements: touched.length,
      buffers: touched.reduce((sum, { buffers }) => sum + buffers, 0),
      latencyMs,
      floorMs,
    };
  } finally {
    await db.close();
  }
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
