import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chown, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, onTestFinished, test, vi } from 'vitest';
import { awaitFreeCluster } from '../../../src/platform/database/embedded/await-free-cluster.ts';
import { findBinaries } from '../../../src/platform/database/embedded/find-binaries.ts';
import { findFreePort } from '../../../src/platform/database/embedded/find-free-port.ts';
import { findOrMakeRoom } from '../../../src/platform/database/embedded/find-room.ts';
import { startEmbedded } from '../../../src/platform/database/embedded/index.ts';
import { readHolder } from '../../../src/platform/database/embedded/read-holder.ts';
import {
  runSupervised,
  type Supervised,
} from '../../../src/platform/database/embedded/run-supervised.ts';
import {
  IDENTITIES,
  killStarters,
  makeCheckout,
  makeTempDir,
  query,
  removeTempDir,
  running,
  runStarter,
  serverPids,
  startedBy,
  tempDir,
} from './harness.ts';

let checkout: string;

beforeAll(async () => {
  checkout = await makeCheckout(await makeTempDir(), 'linked');
}, 60_000);

afterEach(killStarters);

afterAll(() => removeTempDir(checkout));

describe.each(IDENTITIES)('started by $name', { timeout: 60_000 }, ({ ids }) => {
  // Data that has been served before: what matters to most of these guarantees is the next start.
  let usedDir: string;
  const used = () => ({ checkout, ids, dataDir: path.join(usedDir, 'data') });
  const fresh = async () => ({ checkout, ids, dataDir: path.join(await tempDir(ids), 'data') });

  beforeAll(async () => {
    usedDir = await makeTempDir(ids);
    await (await startedBy(used())).end();
  }, 60_000);

  afterAll(() => removeTempDir(usedDir));

  test('a killed starter leaves no process behind, and the next start has its data', async () => {
    const place = used();
    const first = await startedBy(place);
    await query(first.url, 'CREATE TABLE kept_by_killed AS SELECT 42 AS answer');
    const pids = await serverPids(first.url);
    await first.kill();

    // At once, while the first server is still shutting down: it is waited for, not refused.
    const second = await startedBy(place);
    expect(await running(pids)).toEqual([]);
    expect(await query(second.url, 'SELECT answer FROM kept_by_killed')).toEqual([{ answer: 42 }]);
    await second.end();
  });

  test('the server does not keep a finished program alive, and ends with it', async () => {
    const place = used();
    const starter = await startedBy({ ...place, manner: 'leave' });
    await starter.exited;
    await vi.waitFor(async () => expect(await lockFiles(place.dataDir)).toEqual([]), 20_000);
    await expect(query(starter.url, 'SELECT 1')).rejects.toMatchObject({ code: 'ECONNREFUSED' });
  });

  test('a second start on the same data is refused: who holds it, and what to do', async () => {
    const place = used();
    const first = await startedBy(place);
    const [serverPid] = await serverPids(first.url);
    const refusal = await runStarter(place).answer;
    expect(refusal).toMatchObject({ kind: 'refused', code: 'held' });
    const message = refusal.kind === 'refused' ? refusal.message : '';
    expect(message).toContain(`in use by process ${first.pid} `);
    expect(message).toContain(`server is process ${serverPid}`);
    expect(message).toMatch(/Stop that process.*DATABASE_URL.*EVENHAND_DATA_DIR/);
    expect(await query(first.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await first.end();
  });

  test('of several first starts at the same moment exactly one serves', async () => {
    const place = await fresh();
    const starters = [1, 2, 3].map(() => runStarter(place));
    const answers = await Promise.all(starters.map(({ answer }) => answer));
    expect(answers.filter(({ kind }) => kind === 'started')).toHaveLength(1);
    expect(
      answers.filter((answer) => answer.kind === 'refused' && answer.code === 'held'),
    ).toHaveLength(2);
    await Promise.all(starters.map((starter) => starter.end()));
    expect(await readdir(place.dataDir)).toEqual(['postgres']);
  });

  test('a start that is killed half-way through the first initialization is recovered', async () => {
    const place = await fresh();
    const first = runStarter(place);
    first.answer.catch(() => undefined);
    const draft = await vi.waitFor(() => draftWithData(place.dataDir), 20_000);
    await first.kill();
    expect(await readdir(place.dataDir)).toEqual([draft]);

    const second = await startedBy(place);
    expect(await query(second.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    expect(await readdir(place.dataDir)).toEqual(['postgres']);
    await second.end();
  });

  test.each([
    ['a process that is gone', async (formerPid: number) => formerPid],
    ['a stranger who was given the same id', startStranger],
  ])('a lock left behind in the name of %s does not block a start', async (_, makePid) => {
    const place = used();
    const first = await startedBy(place);
    const lockFile = path.join(clusterOf(place.dataDir), 'postmaster.pid');
    const lock = await readFile(lockFile, 'utf8');
    const owner = await stat(lockFile);
    await first.end();

    const pid = await makePid(Number(lock.split('\n')[0]), owner);
    await writeFile(lockFile, lock.replace(/^\d+/, `${pid}`));
    await chown(lockFile, owner.uid, owner.gid);
    const second = await startedBy(place);
    expect(await query(second.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await second.end();
    expect(await lockFiles(place.dataDir)).toEqual([]);
  });
});

describe('between starters that cannot see each other', { timeout: 60_000 }, () => {
  let dataDir: string;

  beforeAll(async () => {
    dataDir = path.join(await makeTempDir(), 'data');
    await (await startEmbedded({ dataDir })).stop();
  }, 60_000);

  afterAll(() => removeTempDir(path.dirname(dataDir)));

  test("Postgres' own lock decides: one serves, the others learn who does", async () => {
    const starts = await Promise.allSettled([1, 2, 3, 4].map(() => startEmbedded({ dataDir })));
    const served = starts.flatMap((start) => (start.status === 'fulfilled' ? start.value : []));
    const refused = starts.flatMap((start) => (start.status === 'rejected' ? start.reason : []));
    await Promise.all(served.map((server) => server.stop()));
    expect(served).toHaveLength(1);
    expect(refused.map(({ code }) => code)).toEqual(['held', 'held', 'held']);
  });

  test('a server whose starter has died is waited for, however long it shuts down', async () => {
    const starter = await startedBy({ checkout, dataDir });
    const room = await findOrMakeRoom(dataDir, () => {});
    const [serverPid = 0] = await serverPids(starter.url);
    process.kill(serverPid, 'SIGSTOP');
    await starter.kill();
    const free = awaitFreeCluster(room);
    // It has looked at least once by the time we have looked after it.
    expect(await readHolder(room.clusterDir)).toMatchObject({ kind: 'held', serverPid });
    process.kill(serverPid, 'SIGCONT');
    await expect(free).resolves.toBeUndefined();
    // The lock file is the last thing that a server takes away, just before its process ends.
    await vi.waitFor(async () => expect(await running([serverPid])).toEqual([]), 20_000);
  });
});

describe('the supervisor', { timeout: 60_000 }, () => {
  let dataDir: string;

  beforeAll(async () => {
    dataDir = await makeTempDir();
    await (await startEmbedded({ dataDir })).stop();
  }, 60_000);

  afterAll(() => removeTempDir(dataDir));

  test('ends the server when its parent dies after the supervising shell was killed', async () => {
    const server = await supervisedServer(dataDir);
    process.kill(server.supervisorPid, 'SIGKILL');
    await server.ended;
    server.release();
    await vi.waitFor(async () => expect(await running([server.pid])).toEqual([]), 20_000);
  });

  test('asks again when the program, as Postgres in its first moments, missed the first call', async () => {
    const deafOnce = `let calls = 0;
      process.on('SIGINT', () => { calls += 1; if (calls === 2) process.exit(7); });
      setInterval(() => {}, 1000);
      console.log('listening');`;
    const command = [process.execPath, '-e', deafOnce];
    const program = await runSupervised({ account: undefined, command, output: 'pipe' });
    if (program.output !== null) await once(program.output, 'data');
    program.release();
    expect(await program.ended).toBe(7);
  });

  test('has a process group of its own, which Ctrl-C in the terminal does not reach', async () => {
    const server = await supervisedServer(dataDir);
    expect(() => process.kill(-server.supervisorPid, 0)).not.toThrow();
    server.release();
    await server.ended;
    expect(await running([server.pid, server.supervisorPid])).toEqual([]);
  });
});

function clusterOf(dataDir: string): string {
  return path.join(dataDir, 'postgres', 'data');
}

async function lockFiles(dataDir: string): Promise<string[]> {
  const names = await readdir(clusterOf(dataDir));
  return names.filter((name) => name.startsWith('postmaster.pid'));
}

/** The draft of a first initialization, once initdb has begun to fill it. */
async function draftWithData(dataDir: string): Promise<string> {
  const draft = (await readdir(dataDir)).find((name) => name.startsWith('postgres.new-')) ?? '';
  expect(await readdir(path.join(dataDir, draft, 'data'))).toContain('base');
  return draft;
}

async function startStranger(_: number, owner: { uid: number; gid: number }): Promise<number> {
  const ids = owner.uid === process.getuid?.() ? {} : { uid: owner.uid, gid: owner.gid };
  const stranger = spawn('sleep', ['300'], { stdio: 'ignore', ...ids });
  onTestFinished(() => void stranger.kill('SIGKILL'));
  await once(stranger, 'spawn');
  return stranger.pid ?? 0;
}

/** A server on a finished cluster, at the very beginning of its start. */
async function supervisedServer(dataDir: string): Promise<Supervised> {
  const room = await findOrMakeRoom(dataDir, () => {});
  const { nativeDir } = await findBinaries();
  const command = [
    path.join(nativeDir, 'bin', 'postgres'),
    ...['-D', room.clusterDir, '-p', `${await findFreePort()}`],
    ...['-c', 'listen_addresses=127.0.0.1', '-c', 'unix_socket_directories='],
  ];
  return runSupervised({ account: room.account, command, output: 'pipe' });
}
