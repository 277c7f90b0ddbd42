import { readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import {
  attachEmbedded,
  type EmbeddedServer,
  startEmbedded,
} from '../../../src/platform/database/embedded/index.ts';
import { makeTempDir, query, removeTempDir, running, serverPids, weAreRoot } from './harness.ts';

describe('the embedded server', { timeout: 60_000 }, () => {
  let dir: string;
  let server: EmbeddedServer;
  let passwdBefore: string;

  beforeAll(async () => {
    passwdBefore = await accounts();
    dir = await makeTempDir();
    server = await startEmbedded({ dataDir: path.join(dir, 'data') });
  }, 60_000);

  afterAll(async () => {
    await server.stop();
    await removeTempDir(dir);
  });

  test('is Postgres 18 with checksums, in UTF-8 and UTC, for this machine only', async () => {
    const rows = await query(
      server.superuserUrl,
      `SELECT name, setting FROM pg_settings WHERE name IN ('data_checksums', 'listen_addresses',
        'log_timezone', 'max_connections', 'password_encryption', 'server_encoding', 'TimeZone',
        'unix_socket_directories', 'fsync', 'full_page_writes')`,
    );
    expect(Object.fromEntries(rows.map(({ name, setting }) => [name, setting]))).toEqual({
      TimeZone: 'UTC',
      data_checksums: 'on',
      fsync: 'on',
      full_page_writes: 'on',
      listen_addresses: '127.0.0.1',
      log_timezone: 'UTC',
      max_connections: '50',
      password_encryption: 'scram-sha-256',
      server_encoding: 'UTF8',
      unix_socket_directories: '',
    });
    const [version] = await query(server.superuserUrl, 'SHOW server_version_num');
    expect(Number(version?.['server_version_num'])).toBeGreaterThanOrEqual(180_000);
  });

  test('sorts and folds text alike on every machine', async () => {
    const [row] = await query(
      server.superuserUrl,
      `SELECT upper('é') AS upper, 'Z' < 'a' AS by_code_point, datlocprovider AS provider, datlocale
         FROM pg_database WHERE datname = 'postgres'`,
    );
    expect(row).toEqual({ upper: 'É', by_code_point: true, provider: 'b', datlocale: 'C.UTF-8' });
  });

  test('lets nobody in without the password', async () => {
    const url = server.urlFor('postgres', { name: 'postgres', password: 'a guess' });
    await expect(query(url, 'SELECT 1')).rejects.toMatchObject({ code: '28P01' });
  });

  test('gives the URL of any database and role, whatever characters the password holds', async () => {
    await query(server.superuserUrl, 'CREATE DATABASE front_office');
    await query(server.superuserUrl, `CREATE ROLE "front desk" LOGIN PASSWORD 'p@ss/wörd?#%'`);
    const url = server.urlFor('front_office', { name: 'front desk', password: 'p@ss/wörd?#%' });
    expect(await query(url, 'SELECT current_database() AS db, current_user AS role')).toEqual([
      { db: 'front_office', role: 'front desk' },
    ]);
  });

  test('keeps data and password from other accounts', async () => {
    const store = path.join(dir, 'data', 'postgres');
    const cluster = await stat(path.join(store, 'data'));
    const password = await stat(path.join(store, 'superuser-password'));
    expect(cluster.mode & 0o777).toBe(0o700);
    expect(password.mode & 0o777).toBe(0o600);
    expect(password.uid).toBe(process.getuid?.());
    expect(cluster.uid === process.getuid?.()).toBe(!weAreRoot);
  });

  test('writes no personal value of a refused statement into its log', async () => {
    const marker = 'Ms. Example 555-0123';
    const twice = `CREATE TABLE one (who text UNIQUE);
      INSERT INTO one VALUES ('${marker}'); INSERT INTO one VALUES ('${marker}')`;
    await expect(query(server.superuserUrl, twice)).rejects.toMatchObject({ code: '23505' });
    const log = await readFile(path.join(dir, 'data', 'postgres', 'server.log'), 'utf8');
    expect(log).toContain('duplicate key value violates unique constraint');
    expect(log).not.toContain(marker);
  });

  test('can be reached by a command-line tool that knows only the data directory', async () => {
    const attached = await attachEmbedded({ dataDir: path.join(dir, 'data') });
    expect(attached?.port).toBe(server.port);
    expect(await query(attached?.superuserUrl ?? '', 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  });

  test('leaves the accounts of the system as they were', async () => {
    expect(await accounts()).toBe(passwdBefore);
  });
});

describe('the data of the embedded server', { timeout: 60_000 }, () => {
  let dir: string;

  beforeAll(async () => {
    dir = await makeTempDir();
  });

  afterAll(() => removeTempDir(dir));

  test('survives a stop, and the death of the server itself; only a running server is attached to', async () => {
    const dataDir = path.join(dir, 'data');
    expect(await attachEmbedded({ dataDir })).toBeUndefined();
    const first = await startEmbedded({ dataDir });
    await query(first.superuserUrl, 'CREATE TABLE kept AS SELECT 1 AS step');
    await Promise.all([first.stop(), first.stop()]);
    await first.stop();
    expect(await attachEmbedded({ dataDir })).toBeUndefined();

    const second = await startEmbedded({ dataDir });
    await query(second.superuserUrl, 'INSERT INTO kept VALUES (2)');
    const pids = await serverPids(second.superuserUrl);
    process.kill(pids[0] ?? 0, 'SIGKILL');
    await expect(second.unexpectedEnd).resolves.toMatchObject({ code: 'ended' });
    await second.stop();

    const third = await startEmbedded({ dataDir });
    const rows = await query(third.superuserUrl, 'SELECT step FROM kept ORDER BY step');
    expect(rows).toEqual([{ step: 1 }, { step: 2 }]);
    await third.stop();
    await vi.waitFor(async () => expect(await running(pids)).toEqual([]), 20_000);
  });
});

async function accounts(): Promise<string> {
  const files = ['/etc/passwd', '/etc/group'];
  return (await Promise.all(files.map((file) => readFile(file, 'utf8')))).join('\n');
}
