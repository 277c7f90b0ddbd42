import { readFile } from 'node:fs/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import pg from 'pg';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import { continueRun } from '../../src/audits/continue-run.ts';
import { judgeTickets } from '../../src/audits/judge-tickets.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import { loadJobs } from '../../src/audits/load-jobs.ts';
import { storeOf } from '../../src/audits/store.ts';
import { type Database, openDatabase } from '../../src/platform/database/database.ts';
import { createBenchDatabase } from './bench-database.ts';
import { copyCompany } from './copy-company.ts';
import { type Percentiles, percentilesOf } from './percentiles.ts';

/** A whole audit of an invented company, end to end: read, judged by every rule, written. */
export interface AuditRunBench {
  tickets: number;
  /** Of how many equal companies it is put together. */
  copies: number;
  /** Making the company, which is no part of the audit. */
  loadTicketsPerSecond: number;
  run: Spent;
  /** The same facts read by the same statements, and nothing judged or written. */
  floor: Spent;
  /** At each tenth of the run, after collecting garbage. */
  memory: readonly { judged: number; rssMegabytes: number; heapMegabytes: number }[];
  /** One ticket that was just closed: its facts read, judged, written, committed. */
  oneTicketMs: Percentiles;
}

/** What tickets took: on the clock, and of processors, in this process and in the database. */
export interface Spent {
  tickets: number;
  ticketsPerSecond: number;
  nodeCpuUs: number;
  /** Null where the server's processes cannot be seen from here. */
  databaseCpuUs: number | null;
}

export async function benchAuditRun(tickets: number): Promise<AuditRunBench> {
  const database = await createBenchDatabase();
  try {
    const copies = Math.ceil(tickets / MADE_ONE_BY_ONE_MAX);
    const made = await loadBigCompany({
      ...{ tickets: Math.round(tickets / copies), seed: 1, wrongs: 0.05, journal: false },
      ownerUrl: database.url,
    });
    if (copies > 1) await copyAll(database.url, copies);
    const measured = await measureAuditRun(database.url);
    return { tickets, copies, loadTicketsPerSecond: made.ticketsPerSecond, ...measured };
  } finally {
    await database.drop();
  }
}

/** More would take hours to make, so larger companies are copies of one beside each other. */
const MADE_ONE_BY_ONE_MAX = 100_000;

async function copyAll(url: string, copies: number): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await copyCompany(client, copies);
  } finally {
    await client.end();
  }
}

/** Audits the company of a database that nobody has judged yet, and everything once more as a floor. */
export async function measureAuditRun(
  url: string,
): Promise<Omit<AuditRunBench, 'tickets' | 'copies' | 'loadTicketsPerSecond'>> {
  const db = await openDatabase({ url, poolMax: 2 });
  const watch = new pg.Client({ connectionString: url });
  await watch.connect();
  try {
    const ids = await endedTickets(watch);
    const collectGarbage = garbageCollector();
    // What is compiled and read once is not measured: neither of the two is the first.
    await readAlone(db, ids.slice(0, 2_000));
    const memory: AuditRunBench['memory'][number][] = [];
    const remember = (judged: number) => {
      collectGarbage();
      const { rss, heapUsed } = process.memoryUsage();
      memory.push({ judged, rssMegabytes: rss / 1e6, heapMegabytes: heapUsed / 1e6 });
    };
    const run = await spentOn(watch, ids.length, (pause) =>
      judgeAll(db, ids.length, (judged) => pause(() => remember(judged))),
    );
    const floor = await spentOn(watch, ids.length, () => readAlone(db, ids));
    return { run, floor, memory, oneTicketMs: await judgeOneByOne(db, watch, ids) };
  } finally {
    await watch.end();
    await db.close();
  }
}

async function endedTickets(watch: pg.Client): Promise<string[]> {
  const { rows } = await watch.query<{ id: string }>(`
    SELECT id FROM ticket WHERE state IN ('closed', 'cancelled', 'resolved_by_phone') ORDER BY id`);
  return rows.map(({ id }) => id);
}

/** As the background does it, telling of each tenth. */
async function judgeAll(
  db: Database,
  tickets: number,
  onTenth: (judged: number) => void,
): Promise<void> {
  const deps = depsOf(db);
  let tenths = 0;
  while (await continueRun(deps)) {
    const run = await db.prisma.auditRun.findFirst({ orderBy: { startedAt: 'desc' } });
    const judged = run?.done ?? 0;
    if (judged * 10 < (tenths + 1) * tickets) continue;
    tenths += 1;
    onTenth(judged);
  }
  onTenth(tickets);
}

function depsOf(db: Database): AuditDeps {
  const known = nothingKnown();
  const judging = {
    now: new Date('2026-01-01T00:00:00Z'),
    newId: () => crypto.randomUUID(),
    known,
  };
  return { db, judging: () => judging };
}

const TICKETS_AT_A_TIME = 100;

async function readAlone(db: Database, ids: readonly string[]): Promise<void> {
  const known = nothingKnown();
  for (let at = 0; at < ids.length; at += TICKETS_AT_A_TIME) {
    const some = ids.slice(at, at + TICKETS_AT_A_TIME);
    await db.transact(async (tx) => {
      const store = storeOf(tx);
      await store.sql.query('SET LOCAL plan_cache_mode = force_generic_plan');
      await loadJobs(store, some, known);
    }, 'ReadCommitted');
  }
}

const ONE_BY_ONE = 300;

/** Tickets from all over the company, each as if it had not been judged by what is known now. */
async function judgeOneByOne(
  db: Database,
  watch: pg.Client,
  ids: readonly string[],
): Promise<Percentiles> {
  const step = Math.max(1, Math.floor(ids.length / ONE_BY_ONE));
  const sample = ids.filter((_, at) => at % step === 0);
  await watch.query(
    `UPDATE audit_judgement SET facts_hash = repeat('0', 64)
    WHERE ticket_id = ANY ($1)`,
    [sample],
  );
  const judging = depsOf(db).judging();
  const took: number[] = [];
  for (const id of sample) {
    const startedAt = performance.now();
    await db.transact((tx) => judgeTickets({ tx, ...judging }, [id]), 'ReadCommitted');
    took.push(performance.now() - startedAt);
  }
  // The first ones read the price books, which whoever judges in the background keeps.
  return percentilesOf(took.slice(Math.min(10, took.length - 1)));
}

/** Where `pause` is called, what happens in it is not counted. */
async function spentOn(
  watch: pg.Client,
  tickets: number,
  work: (pause: (act: () => void) => void) => Promise<void>,
): Promise<Spent> {
  let [pausedMs, pausedCpuUs] = [0, 0];
  const pause = (act: () => void) => {
    const [at, cpuAt] = [performance.now(), cpuUs()];
    act();
    pausedMs += performance.now() - at;
    pausedCpuUs += cpuUs() - cpuAt;
  };
  const [startedAt, cpuBefore] = [performance.now(), cpuUs()];
  const databaseBefore = await databaseCpuMs(watch);
  await work(pause);
  const seconds = (performance.now() - startedAt - pausedMs) / 1_000;
  const nodeCpuUs = (cpuUs() - cpuBefore - pausedCpuUs) / tickets;
  const databaseAfter = await databaseCpuMs(watch);
  const databaseCpuUs =
    databaseBefore === null || databaseAfter === null
      ? null
      : ((databaseAfter - databaseBefore) * 1_000) / tickets;
  return { tickets, ticketsPerSecond: tickets / seconds, nodeCpuUs, databaseCpuUs };
}

function cpuUs(): number {
  const { user, system } = process.cpuUsage();
  return user + system;
}

/** Of the backends of this database, as Linux counts it, in ticks of 10 ms. */
async function databaseCpuMs(watch: pg.Client): Promise<number | null> {
  const { rows } = await watch.query<{ pid: number }>(
    'SELECT pid FROM pg_stat_activity WHERE datname = current_database()',
  );
  try {
    const each = await Promise.all(rows.map(({ pid }) => readFile(`/proc/${pid}/stat`, 'utf8')));
    if (!each.every((stat) => stat.includes('(postgres)'))) return null;
    return each.reduce((sum, stat) => sum + ticksOf(stat) * 10, 0);
  } catch {
    return null;
  }
}

/** Fields 14 and 15 of `/proc/PID/stat`, see proc(5); its second field may hold spaces. */
function ticksOf(stat: string): number {
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return Number(fields[11]) + Number(fields[12]);
}

function garbageCollector(): () => void {
  setFlagsFromString('--expose-gc');
  const collect: unknown = runInNewContext('gc');
  return () => {
    if (typeof collect === 'function') collect();
  };
}

/** As it is printed; `first` is the smallest company, whose cost the others are held against. */
export function auditRunLines(bench: AuditRunBench, first: AuditRunBench): string {
  const { tickets, copies, loadTicketsPerSecond, run, floor, memory, oneTicketMs } = bench;
  const grown = memory.map(
    ({ judged, rssMegabytes, heapMegabytes }) =>
      `${judged}: ${rssMegabytes.toFixed(0)}/${heapMegabytes.toFixed(0)}`,
  );
  return `
A company of ${tickets} tickets${copies > 1 ? `, ${copies} equal ones beside each other` : ''}, made at ${Math.round(loadTicketsPerSecond)} tickets/s, audited end to end by one process
  judged and written       ${spentWords(run)}
  the same read (floor)    ${spentWords(floor)}
  a ticket costs ${ratio(costUs(run), costUs(first.run))} times what it costs among ${first.tickets}
  one ticket when it closes: p50 ${oneTicketMs.p50.toFixed(1)} ms  p99 ${oneTicketMs.p99.toFixed(1)} ms
  MB of memory, of the heap in it, after so many: ${grown.join('  ')}`;
}

function spentWords({ tickets, ticketsPerSecond, nodeCpuUs, databaseCpuUs }: Spent): string {
  const database = databaseCpuUs === null ? 'not seen' : `${databaseCpuUs.toFixed(0)} µs`;
  return `${tickets}: ${Math.round(ticketsPerSecond)} tickets/s by the clock; processor of this process ${nodeCpuUs.toFixed(0)} µs a ticket (${Math.round(1e6 / nodeCpuUs)}/s on a core), of the database ${database}`;
}

function costUs({ nodeCpuUs, databaseCpuUs }: Spent): number {
  return nodeCpuUs + (databaseCpuUs ?? 0);
}

function ratio(one: number, other: number): string {
  return (one / other).toFixed(2);
}
