import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { serialize } from 'node:v8';
import pg from 'pg';
import { loadBigCompany } from '../../../seed/big-company/load-big-company.ts';
import { loadCompany } from '../../../seed/load-company.ts';
import { continueRun } from '../../../src/audits/continue-run.ts';
import { nothingKnown } from '../../../src/audits/known-terms.ts';
import { systemClock } from '../../../src/platform/clock.ts';
import { openDatabase } from '../../../src/platform/database/database.ts';
import { APP_ROLE } from '../../../src/platform/database/provide-database.ts';
import { timedIds } from '../../../src/platform/ids.ts';
import { createBenchDatabase } from '../bench-database.ts';
import { addCustomers, addPastTickets } from '../grown-company.ts';
import { medianOf, type Percentiles, percentilesOf, rounded } from '../percentiles.ts';
import { type ChildServer, startChild } from '../servers/child-server.ts';
import { rehearse } from '../servers/rehearse.ts';
import type { BenchRequest } from '../servers/send.ts';
import { sendRequests } from '../servers/send-requests.ts';
import { sendAtOnce, sendSteadily } from './send-steadily.ts';
import type { Health } from './serve-whole.ts';
import { type Asked, type Known, trafficOf } from './traffic.ts';

/** An office at work beside many customers and past visits. */
export interface LoadBench {
  customers: number;
  visits: number;
  /** At a steady rate, latencies from when a request was due. */
  steady: {
    perSecond: number;
    requests: number;
    readsMs: Percentiles;
    writesMs: Percentiles;
    loopDelayMs: Percentiles;
    refused: number;
  };
  /** As fast as eight connections get answers, reads and writes as above. */
  soak: {
    requests: number;
    requestsPerSecond: number;
    refused: number;
    memory: readonly { requests: number; heapMegabytes: number; rssMegabytes: number }[];
    /** Of the heap, by least squares over the second half, when everything has been used once. */
    heapKilobytesPerThousand: number;
  };
  /** The reads alone, beside a bare server that sends the same statements. */
  reads: { ours: number[]; floor: number[]; statements: number; ratio: number };
}

export interface LoadSize {
  customers: number;
  visits: number;
  perSecond: number;
  steadySeconds: number;
  soakRequests: number;
}

const SEED = 1;

/** Starts the whole service on a company of that size and lets an office work with it. */
export async function benchLoad(size: LoadSize): Promise<LoadBench> {
  const database = await createBenchDatabase();
  const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-load-'));
  const children: ChildServer[] = [];
  try {
    await makeCompany(database.url, size);
    const known = await knownOf(database.url);
    const service = await startChild(new URL('./serve-whole.ts', import.meta.url), [database.url]);
    children.push(service);
    const next = trafficOf(known, SEED);
    // What is compiled and read once is not measured, nor what each connection plans once.
    await sendAtOnce(service.port, next, { connections: 8, requests: 6_000 });
    const steady = await measureSteady(service, next, size);
    const soak = await measureSoak(service, next, size.soakRequests);
    const reads = await measureReads(service.port, database.url, next, async (recorded) => {
      const file = path.join(folder, 'recorded');
      await writeFile(file, serialize(recorded));
      const floor = await startChild(new URL('../servers/serve-floor.ts', import.meta.url), [
        ...[database.url, file],
      ]);
      children.push(floor);
      return floor.port;
    });
    return { customers: size.customers, visits: size.visits, steady, soak, reads };
  } finally {
    for (const child of children) await child.stop();
    await database.drop();
    await rm(folder, { recursive: true, force: true });
  }
}

async function makeCompany(url: string, { customers, visits }: LoadSize): Promise<void> {
  await loadBigCompany({ ownerUrl: url, tickets: 3_000, seed: SEED, journal: false });
  await withClient(url, async (client) => {
    await client.query('SET synchronous_commit = off');
    await addCustomers(client, customers);
    await addPastTickets(client, { from: 0, to: visits, sites: customers });
  });
  await judgePast(url);
  // Nor right after so much was written, with the server still tidying up.
  await withClient(url, async (client) => {
    await client.query('VACUUM ANALYZE');
    await client.query('CHECKPOINT');
  });
}

/** No office comes to work beside a past that was never judged: the first run over it is done. */
async function judgePast(url: string): Promise<void> {
  const db = await openDatabase({ url, poolMax: 1, role: APP_ROLE });
  const ids = timedIds(systemClock);
  const known = nothingKnown();
  const judging = () => ({ now: systemClock.now(), newId: () => ids.next(), known });
  try {
    while (await continueRun({ db, judging }, JUDGED_AT_ONCE));
  } finally {
    await db.close();
  }
}

const JUDGED_AT_ONCE = 500;

async function knownOf(url: string): Promise<Known> {
  const db = await openDatabase({ url, poolMax: 1, role: APP_ROLE });
  const staff = await loadCompany({ db, clock: systemClock, ids: timedIds(systemClock) }).finally(
    () => db.close(),
  );
  return withClient(url, async (client) => {
    const list = async (sql: string) => {
      const { rows } = await client.query<{ it: string }>(sql);
      return rows.map(({ it }) => it);
    };
    return {
      tokens: { dispatcher: staff.dispatcher.token, owner: staff.owner.token },
      technicianIds: await list(`SELECT id AS it FROM staff WHERE role = 'technician' ORDER BY id`),
      ticketIds: await list('SELECT id AS it FROM ticket ORDER BY md5(id::text) LIMIT 5000'),
      siteIds: await list('SELECT id AS it FROM site ORDER BY md5(id::text) LIMIT 5000'),
      quoteIds: await list('SELECT id AS it FROM quote ORDER BY md5(id::text) LIMIT 1000'),
      searches: await list(`
        SELECT CASE WHEN row_number() OVER () % 2 = 0 THEN name ELSE right(phone, 8) END AS it
        FROM customer ORDER BY md5(id::text) LIMIT 1000`),
      days: await list(`
        SELECT DISTINCT (window_start AT TIME ZONE 'America/Chicago')::date::text AS it
        FROM visit ORDER BY 1 DESC LIMIT 30`),
    };
  });
}

async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url, options: '-c timezone=UTC' });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

async function measureSteady(
  service: ChildServer,
  next: () => Asked,
  { perSecond, steadySeconds }: LoadSize,
): Promise<LoadBench['steady']> {
  await healthOf(service);
  const requests = perSecond * steadySeconds;
  const sent = await sendSteadily(service.port, next, { perSecond, requests });
  const { delayMs } = await healthOf(service);
  return {
    ...{ perSecond, requests, refused: sent.refused },
    readsMs: percentilesOf(sent.readsMs),
    writesMs: percentilesOf(sent.writesMs),
    loopDelayMs: { p50: rounded(delayMs.p50), p99: rounded(delayMs.p99) },
  };
}

const STRETCHES = 20;

async function measureSoak(
  service: ChildServer,
  next: () => Asked,
  requests: number,
): Promise<LoadBench['soak']> {
  const memory: LoadBench['soak']['memory'][number][] = [];
  let [seconds, refused] = [0, 0];
  const each = Math.ceil(requests / STRETCHES);
  for (let at = 1; at <= STRETCHES; at += 1) {
    const sent = await sendAtOnce(service.port, next, { connections: 8, requests: each });
    seconds += sent.seconds;
    refused += sent.refused;
    const { heapMegabytes, rssMegabytes } = await healthOf(service);
    memory.push({ requests: at * each, heapMegabytes, rssMegabytes });
  }
  return {
    requests: STRETCHES * each,
    requestsPerSecond: Math.round((STRETCHES * each) / seconds),
    refused,
    memory,
    heapKilobytesPerThousand: rounded(
      slopeOf(memory.slice(STRETCHES / 2).map((one) => [one.requests, one.heapMegabytes])) * 1e6,
    ),
  };
}

/** Of the straight line that lies nearest to some points, by least squares. */
function slopeOf(points: readonly (readonly [number, number])[]): number {
  const mean = (pick: 0 | 1) => points.reduce((sum, point) => sum + point[pick], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const above = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  return above / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
}

async function healthOf(service: ChildServer): Promise<Health> {
  return (await service.ask()) as Health;
}

const READS = 2_000;
const ROUNDS = 3;

async function measureReads(
  port: number,
  url: string,
  next: () => Asked,
  startFloor: (recorded: Awaited<ReturnType<typeof rehearse>>) => Promise<number>,
): Promise<LoadBench['reads']> {
  const asked: BenchRequest[] = [];
  while (asked.length < READS) {
    const { method, path: where, headers, kind, body } = next();
    // A write that is not sent leaves its job behind, and nobody goes on with it.
    if (kind === 'read' && body === undefined)
      asked.push({ method, path: where, headers, body: '' });
  }
  const recorded = await rehearse(url, asked);
  const floorPort = await startFloor(recorded);
  const replays = asked.map((request, at) => ({ ...request, path: `/replay/${at}` }));
  const [ours, floor]: [number[], number[]] = [[], []];
  for (let round = 0; round <= ROUNDS; round += 1) {
    ours.push(Math.round((await sendRequests(port, asked)).requestsPerSecond));
    floor.push(Math.round((await sendRequests(floorPort, replays)).requestsPerSecond));
  }
  // The first round compiles.
  const settled = { ours: ours.slice(1), floor: floor.slice(1) };
  return {
    ...settled,
    statements: medianOf(recorded.map(({ statements }) => statements.length)),
    ratio: rounded(medianOf(settled.ours) / medianOf(settled.floor)),
  };
}

export function loadLines({ customers, visits, steady, soak, reads }: LoadBench): string {
  const ms = ({ p50, p99 }: Percentiles) => `p50 ${p50.toFixed(1)} ms  p99 ${p99.toFixed(1)} ms`;
  const heap = soak.memory.map(({ heapMegabytes }) => heapMegabytes.toFixed(0)).join(' ');
  return `
An office at work beside ${customers} customers and ${visits} past visits
  ${steady.requests} requests at ${steady.perSecond}/s: reads ${ms(steady.readsMs)}; writes ${ms(steady.writesMs)}; event loop late by ${ms(steady.loopDelayMs)}; ${steady.refused} refused
  ${soak.requests} requests at once over 8 connections: ${soak.requestsPerSecond}/s, ${soak.refused} refused; heap in MB ${heap}; it grows by ${soak.heapKilobytesPerThousand.toFixed(2)} kB a thousand requests
  reads alone: ${reads.ours.join(', ')}/s; the same statements (${reads.statements} a request) from a bare server: ${reads.floor.join(', ')}/s; ratio ${reads.ratio.toFixed(2)}`;
}
