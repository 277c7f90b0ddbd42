import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { sha256 } from '../sha256.ts';
import { openSchemaEngine } from './schema-engine.ts';

/** The folder of SQL migrations; the SQL decides, prisma/schema.prisma follows it. */
export const migrationsDir = fileURLToPath(new URL('../../../prisma/migrations', import.meta.url));

// Any constant will do, as long as every Evenhand process uses the same one.
const MIGRATION_LOCK = 7_205_311;

/**
 * Brings a database to the newest schema. Safe to call from several processes at once: they wait
 * for each other on an advisory lock. A migration that fails leaves nothing behind, and is tried
 * again by the next call.
 * @param ownerUrl connection string of the role that owns the schema
 * @param folder where the migrations are
 * @returns the names of the migrations applied now, in order; empty when it was up to date
 * @throws Error with the server's words when a migration fails
 */
export async function migrate(ownerUrl: string, folder = migrationsDir): Promise<string[]> {
  const guard = new pg.Client({ connectionString: ownerUrl });
  await guard.connect();
  try {
    await guard.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
    const names = await migrationNames(folder);
    await refuseOtherScripts(guard, folder);
    if ((await appliedNames(guard)).join() === names.join()) return [];
    return await applyAll(ownerUrl, folder, names, await failedNames(guard));
  } finally {
    await guard.end();
  }
}

/** The names of all migrations in the folder, oldest first. */
export async function migrationNames(folder = migrationsDir): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
}

/** Finished migrations of a database, oldest first; empty for a new database. */
export async function appliedNames(client: pg.ClientBase): Promise<string[]> {
  return namesInHistory(client, 'finished_at IS NOT NULL');
}

function failedNames(client: pg.ClientBase): Promise<string[]> {
  return namesInHistory(client, 'finished_at IS NULL AND rolled_back_at IS NULL');
}

async function namesInHistory(client: pg.ClientBase, condition: string): Promise<string[]> {
  const known = await client.query(`SELECT to_regclass('_prisma_migrations') IS NOT NULL AS known`);
  if (known.rows[0]?.known !== true) return [];
  const names = await client.query<{ migration_name: string }>(
    `SELECT migration_name FROM _prisma_migrations WHERE ${condition} ORDER BY migration_name`,
  );
  return names.rows.map((row) => row.migration_name);
}

/** A script that was changed after it ran would leave a schema that nobody ever wrote down. */
async function refuseOtherScripts(client: pg.ClientBase, folder: string): Promise<void> {
  for (const { migration_name, checksum } of await appliedScripts(client)) {
    const script = await readFile(path.join(folder, migration_name, 'migration.sql'), 'utf8').catch(
      () => undefined,
    );
    if (script === undefined || sha256(script) === checksum) continue;
    throw new Error(
      `This database was made by another version of migration ${migration_name}. ` +
        'Restore that version, or, if the data are only a demo, start with an empty database.',
    );
  }
}

async function appliedScripts(
  client: pg.ClientBase,
): Promise<{ migration_name: string; checksum: string }[]> {
  const known = await client.query(`SELECT to_regclass('_prisma_migrations') IS NOT NULL AS known`);
  if (known.rows[0]?.known !== true) return [];
  const scripts = await client.query<{ migration_name: string; checksum: string }>(
    'SELECT migration_name, checksum FROM _prisma_migrations WHERE finished_at IS NOT NULL',
  );
  return scripts.rows;
}

async function applyAll(
  ownerUrl: string,
  folder: string,
  names: string[],
  failed: string[],
): Promise<string[]> {
  const { engine, close } = await openSchemaEngine(ownerUrl);
  try {
    // The engine waits for a person to look at a failed migration, because it may be half done.
    // Ours run whole or not at all; most often it was a lock that could not be had in time.
    for (const migrationName of failed) await engine.markMigrationRolledBack({ migrationName });
    const { appliedMigrationNames } = await engine.applyMigrations({
      migrationsList: {
        baseDir: folder,
        lockfile: await readLockfile(folder),
        shadowDbInitScript: '',
        migrationDirectories: await Promise.all(names.map((name) => readMigration(folder, name))),
      },
      filters: { externalTables: [], externalEnums: [] },
    });
    return appliedMigrationNames;
  } finally {
    await close();
  }
}

async function readLockfile(folder: string) {
  const content = await readFile(path.join(folder, 'migration_lock.toml'), 'utf8');
  return { path: 'migration_lock.toml', content };
}

async function readMigration(folder: string, name: string) {
  const content = await readFile(path.join(folder, name, 'migration.sql'), 'utf8');
  return {
    path: name,
    migrationFile: { path: 'migration.sql', content: { tag: 'ok' as const, value: content } },
  };
}
