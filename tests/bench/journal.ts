import pg from 'pg';
import { sealJournal, verifyJournal } from '../../src/journal/index.ts';
import { type Database, openDatabase } from '../../src/platform/database/database.ts';
import { APP_ROLE } from '../../src/platform/database/provide-database.ts';
import { createBenchDatabase } from './bench-database.ts';

/** What it takes to hold a whole journal against a tip kept outside. */
export interface JournalBench {
  entries: number;
  sealSeconds: number;
  verifySeconds: number;
  /** The least that any check takes: the same columns of the same entries read, in the same slices. */
  floorSeconds: number;
  /** What the check holds in memory beyond what was held before it, at most. */
  memoryMegabytes: number;
  faults: number;
}

const ENTRIES = 1_000_000;

/** Writes a million entries as large as those of a quote, seals them, and verifies them twice. */
export async function benchJournal(): Promise<JournalBench> {
  const database = await createBenchDatabase();
  const client = new pg.Client({ connectionString: database.url, options: '-c timezone=UTC' });
  await client.connect();
  try {
    await client.query('SET synchronous_commit = off');
    await client.query(WRITE, [ENTRIES]);
    await client.query('VACUUM ANALYZE');
    const db = await openDatabase({ url: database.url, poolMax: 4, role: APP_ROLE });
    try {
      return await measure(client, db);
    } finally {
      await db.close();
    }
  } finally {
    await client.end();
    await database.drop();
  }
}

async function measure(client: pg.Client, { pool }: Database): Promise<JournalBench> {
  // What looks at an empty table reads it whole, until it is known to have grown.
  await sealJournal(pool, 5_000);
  await client.query('ANALYZE journal_seal');
  const sealSeconds = await secondsOf(async () => {
    while ((await sealJournal(pool, 5_000)) > 0);
  });
  await client.query('VACUUM ANALYZE');
  const { tip } = await verifyJournal(pool);
  const floorSeconds = await secondsOf(() => readAll(client));
  const memory = watchMemory();
  let faults = 0;
  const verifySeconds = await secondsOf(async () => {
    faults = (await verifyJournal(pool, tip)).faults.length;
  });
  const memoryMegabytes = memory.stop();
  return { entries: ENTRIES, sealSeconds, verifySeconds, floorSeconds, memoryMegabytes, faults };
}

async function readAll(client: pg.Client): Promise<void> {
  let after = '0';
  for (;;) {
    const { rows } = await client.query<{ position: string }>(READ, [after]);
    const last = rows.at(-1);
    if (last === undefined) return;
    after = last.position;
  }
}

async function secondsOf(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1_000;
}

function watchMemory(): { stop(): number } {
  const before = process.memoryUsage().rss;
  let most = before;
  const timer = setInterval(() => {
    most = Math.max(most, process.memoryUsage().rss);
  }, 100);
  return {
    stop: () => {
      clearInterval(timer);
      return (most - before) / 1e6;
    },
  };
}

const WRITE = `
  INSERT INTO journal_entry (id, at, actor_kind, actor_id, actor_role, request_id, event,
    subject_kind, subject_id, changes)
  SELECT ('00000000-0000-4000-8000-' || lpad(to_hex(n), 12, '0'))::uuid,
    timestamptz '2026-01-01' + n * interval '1 second', 'staff',
    '00000000-0000-4000-8001-000000000001', 'dispatcher', 'request-' || n, 'quote.accepted',
    'quote', ('00000000-0000-4000-8002-' || lpad(to_hex(n), 12, '0')),
    '{"after":{"acceptedByName":"sha256:' || md5(n::text) || md5((-n)::text)
      || '","contentHash":"' || md5((2 * n)::text) || md5((-2 * n)::text)
      || '","revision":1,"totalCents":' || n || '},"before":{"state":"issued"}}'
  FROM generate_series(1, $1::int) n`;

const READ = `
  SELECT s.position::text AS position, s.hash, e.id::text, e.at::text, e.actor_kind,
    e.actor_id::text, e.actor_role, e.request_id, e.event, e.subject_kind, e.subject_id, e.changes
  FROM journal_seal s LEFT JOIN journal_entry e ON e.id = s.entry_id
  WHERE s.position > $1::bigint ORDER BY s.position LIMIT 5000`;
