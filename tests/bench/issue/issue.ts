import { randomUUID } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { serialize } from 'node:v8';
import pg from 'pg';
import { loadBigCompany } from '../../../seed/big-company/load-big-company.ts';
import { loadCompany } from '../../../seed/load-company.ts';
import { systemClock } from '../../../src/platform/clock.ts';
import { openDatabase } from '../../../src/platform/database/database.ts';
import { APP_ROLE } from '../../../src/platform/database/provide-database.ts';
import { timedIds } from '../../../src/platform/ids.ts';
import { createBenchDatabase } from '../bench-database.ts';
import { medianOf, type Percentiles, percentilesOf, rounded } from '../percentiles.ts';
import { type ChildServer, startChild } from '../servers/child-server.ts';
import type { RecordedRequest } from '../servers/recorded.ts';
import { rehearse } from '../servers/rehearse.ts';
import type { BenchRequest } from '../servers/send.ts';
import { connections, sendRequests } from '../servers/send-requests.ts';

interface Throughput {
  /** The median of the rounds. */
  requestsPerSecond: number;
  rounds: number[];
  latencyMs: Percentiles;
}

export interface IssueBench {
  connections: number;
  requestsPerRound: number;
  statementsPerIssue: number;
  /** Of one request alone: the share of its time that passes while the database has a statement. */
  rehearsal: { requestMs: number; statementsMs: number };
  draft: { requestsPerSecond: number; latencyMs: Percentiles };
  ours: Throughput;
  floor: Throughput;
  /** Ours over the floor. */
  ratio: number;
}

const company = { tickets: 3_000, seed: 1, journal: false };
const warmUps = 120;
const perRound = 300;
const rounds = 3;
const perServer = warmUps + rounds * perRound;

/**
 * Issues drafted quotes over HTTP, and beside it lets a bare server send the same statements with
 * the same parameters for other drafts of the same company. Nothing runs between two rounds.
 */
export async function benchIssue(): Promise<IssueBench> {
  const database = await createBenchDatabase();
  const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-bench-'));
  const children: ChildServer[] = [];
  const start = async (script: string, args: string[]) => {
    const child = await startChild(new URL(script, import.meta.url), args);
    children.push(child);
    return child;
  };
  try {
    await loadBigCompany({ ...company, ownerUrl: database.url });
    const token = await ownerToken(database.url);
    const ours = await start('./serve-ours.ts', [database.url]);
    const drafting = await sendRequests(ours.port, await draftRequests(database.url, token));
    const issues = drafting.bodies.map((body) => issueRequest(JSON.parse(body).id, token));
    const oursIssues = issues.filter((_, at) => at % 2 === 0);
    const floorIssues = issues.filter((_, at) => at % 2 === 1);
    const recorded = await rehearse(database.url, floorIssues);
    const file = path.join(folder, 'recorded');
    await writeFile(file, serialize(recorded));
    const floor = await start('../servers/serve-floor.ts', [database.url, file]);
    const replays = floorIssues.map((request, at) => ({ ...request, path: `/replay/${at}` }));
    const measured = await takeTurns(ours.port, oursIssues, floor.port, replays);
    await requireSameWork(database.url, oursIssues, floorIssues);
    return {
      connections,
      requestsPerRound: perRound,
      ...describeRehearsal(recorded),
      draft: {
        requestsPerSecond: rounded(drafting.requestsPerSecond),
        latencyMs: percentilesOf(drafting.latenciesMs),
      },
      ...measured,
      ratio: rounded(measured.ours.requestsPerSecond / measured.floor.requestsPerSecond),
    };
  } finally {
    for (const child of children) await child.stop();
    await database.drop();
    await rm(folder, { recursive: true, force: true });
  }
}

async function ownerToken(url: string): Promise<string> {
  const db = await openDatabase({ url, poolMax: 1, role: APP_ROLE });
  const deps = { db, clock: systemClock, ids: timedIds(systemClock) };
  const staff = await loadCompany(deps).finally(() => db.close());
  return staff.owner.token;
}

/**
 * Enough quotes over visits whose tickets are not over, each with every finding that carries a price.
 * Where accepted work waits at the site, nothing may be sold twice; the others take several quotes
 * in turn, far apart.
 */
async function draftRequests(url: string, token: string): Promise<BenchRequest[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const { rows: visits } = await client.query<{ visitId: string; findingIds: string[] }>(
    `SELECT visit_id AS "visitId", array_agg(f.id ORDER BY f.id) AS "findingIds"
     FROM finding f JOIN visit v ON v.id = f.visit_id JOIN ticket t ON t.id = v.ticket_id
     WHERE priceable AND t.state NOT IN ('closed', 'cancelled') AND NOT EXISTS (
       SELECT 1 FROM ticket other JOIN quote q ON q.ticket_id = other.id
       JOIN quote_acceptance a ON a.quote_id = q.id
       WHERE other.site_id = t.site_id AND other.state NOT IN ('closed', 'cancelled'))
     GROUP BY visit_id ORDER BY visit_id`,
  );
  await client.end();
  if (visits.length < 10 * connections) throw new Error('the company is too small for the rounds');
  return Array.from({ length: 2 * perServer }, (_, at) => ({
    path: '/v1/quotes',
    headers: headersOf(token),
    body: JSON.stringify(draftOf(visits[at % visits.length])),
  }));
}

function draftOf(visit: { visitId: string; findingIds: string[] } | undefined) {
  return {
    visitId: visit?.visitId,
    options: [{ title: 'Repair', findingIds: visit?.findingIds }],
  };
}

function issueRequest(quoteId: string, token: string): BenchRequest {
  const headers = { ...headersOf(token), 'if-match': '"v1"' };
  return { path: `/v1/quotes/${quoteId}/issue`, headers, body: '{}' };
}

function headersOf(token: string): Record<string, string> {
  return {
    authorization: `Bearer ${token}`,
    'content-type': 'application/json',
    'idempotency-key': randomUUID(),
  };
}

async function takeTurns(
  oursPort: number,
  oursRequests: BenchRequest[],
  floorPort: number,
  floorRequests: BenchRequest[],
): Promise<{ ours: Throughput; floor: Throughput }> {
  await sendRequests(oursPort, oursRequests.slice(0, warmUps));
  await sendRequests(floorPort, floorRequests.slice(0, warmUps));
  const ours: Awaited<ReturnType<typeof sendRequests>>[] = [];
  const floor: Awaited<ReturnType<typeof sendRequests>>[] = [];
  for (let from = warmUps; from < perServer; from += perRound) {
    ours.push(await sendRequests(oursPort, oursRequests.slice(from, from + perRound)));
    floor.push(await sendRequests(floorPort, floorRequests.slice(from, from + perRound)));
  }
  return { ours: throughputOf(ours), floor: throughputOf(floor) };
}

/** A floor that did less than the service would be no floor: both left the same rows behind. */
async function requireSameWork(url: string, ...servers: BenchRequest[][]): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    for (const requests of servers) {
      const quoteIds = requests.map(({ path: asked }) => asked.split('/')[3]);
      const done = await client.query<{ issued: number }>(ISSUED, [quoteIds]);
      if (done.rows[0]?.issued !== perServer) {
        throw new Error(`${done.rows[0]?.issued} of ${perServer} quotes were issued and journaled`);
      }
    }
    const kept = await client.query<{ kept: number }>(KEPT);
    if (kept.rows[0]?.kept !== servers.length * perServer) {
      throw new Error('not every answer was kept for repetition');
    }
  } finally {
    await client.end();
  }
}

const ISSUED = `
  SELECT count(*)::int AS issued FROM quote_state s
  JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
  JOIN journal_entry e ON e.subject_id = s.quote_id::text AND e.event = 'quote.issued'
  WHERE s.state = 'issued' AND s.quote_id = ANY ($1::uuid[])`;

const KEPT = `
  SELECT count(*)::int AS kept FROM idempotency_key WHERE route = '/v1/quotes/:quoteId/issue'`;

function throughputOf(sent: Awaited<ReturnType<typeof sendRequests>>[]): Throughput {
  const perSecond = sent.map(({ requestsPerSecond }) => rounded(requestsPerSecond));
  return {
    requestsPerSecond: medianOf(perSecond),
    rounds: perSecond,
    latencyMs: percentilesOf(sent.flatMap(({ latenciesMs }) => latenciesMs)),
  };
}

function describeRehearsal(recorded: RecordedRequest[]) {
  const settled = recorded.slice(warmUps);
  const statementsMs = settled.map(({ statements }) =>
    statements.reduce((sum, { ms }) => sum + ms, 0),
  );
  return {
    statementsPerIssue: medianOf(recorded.map(({ statements }) => statements.length)),
    rehearsal: {
      requestMs: medianOf(settled.map(({ ms }) => ms)),
      statementsMs: medianOf(statementsMs),
    },
  };
}
