import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import pg from 'pg';
import { afterEach, expect, it } from 'vitest';
import { loadCompany } from '../../seed/load-company.ts';
import { verifyJournal } from '../../src/journal/index.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { type EmbeddedServer, startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { figure, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';
import { startWriters } from './writers.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

it('a service outlives its database being restarted under load, fast and at once, and loses and doubles nothing', async () => {
  const dataDir = await temporaryFolder(undo);
  let server = await startEmbedded({ dataDir });
  undo.push(() => server.stop());
  const line = await openLine(() => Number(new URL(server.superuserUrl).port));
  undo.push(line.close);
  const url = withPort(server.superuserUrl, line.port);
  await migrate(url);
  const token = await loadDispatcher(url);
  const service = await startProcess(undo, {
    DATABASE_URL: url,
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  const writers = startWriters(undo, { url: service.url, token, count: 8, again: true });
  const { written } = writers;

  for (const end of [endFast, endAtOnce]) {
    const before = written.acknowledged.size;
    await until(() => written.acknowledged.size >= before + 40);
    const told = written.problems.length;
    await end(server);
    line.cut();
    await until(() => written.problems.length >= told + 8);
    expect(await figure(service.metricsUrl, 'evenhand_database_up')).toBe(0);
    expect((await fetch(`${service.url}/healthz`)).status).toBe(200);
    server = await startEmbedded({ dataDir });
    await until(async () => (await fetch(`${service.url}/readyz`)).ok);
  }
  const before = written.acknowledged.size;
  await until(() => written.acknowledged.size >= before + 40);
  await writers.stop();

  expect(service.exitCode()).toBeUndefined();
  expect(written.cuts).toBe(0);
  // The same key while the first attempt still runs is told so; everything else is one problem.
  const codes = new Set(written.problems.map(({ code, status }) => `${status} ${code}`));
  codes.delete('409 request-in-progress');
  expect([...codes]).toEqual(['503 unavailable']);
  for (const { retryAfter, mediaType } of written.problems) {
    expect(Number(retryAfter)).toBeGreaterThan(0);
    expect(mediaType).toBe('application/problem+json; charset=utf-8');
  }
  const pool = new pg.Pool({ connectionString: url, max: 2, options: '-c timezone=UTC' });
  undo.push(() => pool.end());
  const { rows } = await pool.query<{ name: string }>('SELECT name FROM customer');
  expect(rows.map(({ name }) => name).sort()).toEqual([...written.acknowledged].sort());
  // What runs beside the requests goes on: all is sealed, and the audit has read it.
  for (const name of ['evenhand_journal_unsealed_entries', 'evenhand_audit_unread_entries']) {
    await until(async () => (await figure(service.metricsUrl, name)) === 0);
  }
  expect((await verifyJournal(pool)).faults).toEqual([]);
  service.terminate();
  expect(await service.ended).toBe(0);
}, 240_000);

/** As an administrator restarts it: sessions are cut, the data is written out. */
async function endFast(server: EmbeddedServer): Promise<void> {
  await server.stop();
}

/** As a machine that fails: nothing is written out, and the next start recovers. */
async function endAtOnce(server: EmbeddedServer): Promise<void> {
  const client = new pg.Client({ connectionString: server.superuserUrl });
  client.on('error', () => undefined);
  await client.connect();
  const { rows } = await client.query<{ pid: number }>(
    `SELECT split_part(pg_read_file('postmaster.pid'), E'\\n', 1)::int AS pid`,
  );
  const [row] = rows;
  if (row === undefined) throw new Error('the server has no process');
  process.kill(row.pid, 'SIGQUIT');
  await server.unexpectedEnd;
  await client.end().catch(() => undefined);
}

async function loadDispatcher(url: string): Promise<string> {
  const db = await openDatabase({ url, poolMax: 2 });
  try {
    const deps = { db, clock: systemClock, ids: timedIds(systemClock) };
    return (await loadCompany(deps)).dispatcher.token;
  } finally {
    await db.close();
  }
}

/** A port that stays the same, before a server that comes back at another one each time. */
async function openLine(
  target: () => number,
): Promise<{ port: number; cut(): void; close(): Promise<void> }> {
  const ends = new Set<Socket>();
  const line = createServer((near) => {
    const far = connect(target(), '127.0.0.1');
    for (const [one, other] of [[near, far] as const, [far, near] as const]) {
      ends.add(one);
      one.on('error', () => other.destroy());
      one.on('close', () => {
        ends.delete(one);
        other.destroy();
      });
      one.pipe(other);
    }
  }).listen(0, '127.0.0.1');
  await once(line, 'listening');
  const cut = () => {
    for (const end of ends) end.destroy();
  };
  return {
    // A server that listens on a port has an address of this form.
    port: (line.address() as AddressInfo).port,
    cut,
    close: async () => {
      line.close();
      cut();
    },
  };
}

function withPort(url: string, port: number): string {
  const moved = new URL(url);
  moved.port = String(port);
  return moved.toString();
}
