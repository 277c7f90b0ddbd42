import { randomBytes } from 'node:crypto';
import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  appliedNames,
  migrate,
  migrationNames,
  migrationsDir,
} from '../../../src/platform/database/migrate.ts';
import { createEmptyDatabase } from '../../harness/test-database.ts';

let database: { url: string; drop(): Promise<void> };
let admin: pg.Client;
let folder: string;

beforeEach(async () => {
  database = await createEmptyDatabase();
  admin = new pg.Client({ connectionString: database.url });
  await admin.connect();
  folder = await mkdtemp(path.join(tmpdir(), 'evenhand-migrations-'));
});

afterEach(async () => {
  await admin.end();
  await database.drop();
  await rm(folder, { recursive: true, force: true });
});

describe('the migrations', () => {
  it('bring an empty database up to date once, oldest first; a second time there is nothing to do', async () => {
    const names = await migrationNames();
    expect(names).toEqual([...names].sort());
    expect(await migrate(database.url)).toEqual(names);
    const tables = await tableNames();
    expect(tables).toContain('quote_line');
    expect(await migrate(database.url)).toEqual([]);
    expect(await tableNames()).toEqual(tables);
    expect(await appliedNames(admin)).toEqual(names);
  });

  it('started by several processes at once run once', async () => {
    const results = await Promise.all([1, 2, 3].map(() => migrate(database.url)));
    const names = await migrationNames();
    expect(results.filter((applied) => applied.length > 0)).toEqual([names]);
    expect(await appliedNames(admin)).toEqual(names);
  });

  it('need no superuser: the owner of the database is enough', async () => {
    const owner = `evenhand_owner_${randomBytes(6).toString('hex')}`;
    const password = randomBytes(12).toString('hex');
    const name = new URL(database.url).pathname.slice(1);
    await admin.query(`CREATE ROLE ${owner} LOGIN CREATEROLE PASSWORD '${password}'`);
    try {
      await admin.query(`GRANT evenhand_app, evenhand_read TO ${owner} WITH ADMIN OPTION`);
      await admin.query(`ALTER DATABASE ${name} OWNER TO ${owner}`);
      const url = new URL(database.url);
      url.username = owner;
      url.password = password;
      expect(await migrate(url.toString())).toEqual(await migrationNames());
    } finally {
      await admin.query(`DROP OWNED BY ${owner} CASCADE`);
      await admin.query(`ALTER DATABASE ${name} OWNER TO CURRENT_USER`);
      await admin.query(`DROP ROLE ${owner}`);
    }
  });
});

describe('a migration that fails', () => {
  beforeEach(async () => {
    await cp(migrationsDir, folder, { recursive: true });
  });

  it('leaves nothing of itself, keeps what came before it, and says why in the server’s words', async () => {
    await addMigration('29990101000000_broken', 'CREATE TABLE half (id int); SELECT 1 / 0;');
    await expect(migrate(database.url, folder)).rejects.toThrow('division by zero');
    expect(await tableNames()).not.toContain('half');
    expect(await tableNames()).toContain('quote_line');
    expect(await appliedNames(admin)).toEqual(await migrationNames());
  });

  it('does not stand in the way of its mended self', async () => {
    const before = await migrationNames(folder);
    await addMigration('29990101000000_broken', 'CREATE TABLE half (id int); SELECT 1 / 0;');
    await expect(migrate(database.url, folder)).rejects.toThrow('division by zero');
    await expect(migrate(database.url, folder)).rejects.toThrow('division by zero');
    await addMigration('29990101000000_broken', 'CREATE TABLE half (id int);');
    expect(await migrate(database.url, folder)).toEqual(['29990101000000_broken']);
    expect(await appliedNames(admin)).toEqual([...before, '29990101000000_broken']);
    expect(await migrate(database.url, folder)).toEqual([]);
  });

  it('because a table was busy is applied by the next start', async () => {
    await migrate(database.url, folder);
    await addMigration(
      '29990101000000_busy',
      `SET lock_timeout = '50ms'; ALTER TABLE visit ADD COLUMN note text;`,
    );
    await admin.query('BEGIN; LOCK TABLE visit IN ACCESS SHARE MODE');
    await expect(migrate(database.url, folder)).rejects.toThrow('lock timeout');
    await admin.query('COMMIT');
    expect(await migrate(database.url, folder)).toEqual(['29990101000000_busy']);
  });

  it('holds functions and semicolons together: a script is sent whole', async () => {
    await addMigration(
      '29990101000000_function',
      `CREATE FUNCTION twice(n int) RETURNS int LANGUAGE plpgsql AS $$
       DECLARE m int := n; BEGIN m := m * 2; RETURN m; END $$;
       CREATE TABLE after_it (id int DEFAULT twice(4));`,
    );
    await migrate(database.url, folder);
    await admin.query('INSERT INTO after_it DEFAULT VALUES');
    expect((await admin.query('SELECT id FROM after_it')).rows).toEqual([{ id: 8 }]);
  });
});

async function addMigration(name: string, script: string): Promise<void> {
  await mkdir(path.join(folder, name), { recursive: true });
  await writeFile(path.join(folder, name, 'migration.sql'), script);
}

async function tableNames(): Promise<string[]> {
  const tables = await admin.query<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`,
  );
  return tables.rows.map(({ name }) => name);
}
