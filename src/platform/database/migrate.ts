import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { openSchemaEngine } from './schema-engine.ts';

/** The folder of SQL migrations; the SQL decides, prisma/schema.prisma follows it. */
export const migrationsDir = fileURLToPath(new URL('../../../prisma/migrations', import.meta.url));

// Any constant will do, as long as every Evenhand process uses the same one.
const MIGRATION_LOCK = 7_205_311;

/**
 * Brings a database to the newest schema. Safe to call from several processes at once: they wait
 * for each other on an advisory lock.
 * @param ownerUrl connection string of the role that owns the schema
 * @returns the names of the migrations applied now, in order; empty when it was up to date
 */
export async function migrate(ownerUrl: string): Promise<string[]> {
  const guard = new pg.Client({ connectionString: ownerUrl });
  await guard.connect();
  try {
    await guard.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
    const names = await migrationNames();
    if ((await appliedNames(guard)).join() === names.join()) return [];
    return await applyAll(ownerUrl, names);
  } finally {
    await guard.end();
  }
}

/** The names of all migrations in the folder, oldest first. */
export async function migrationNames(): Promise<string[]> {
  const entries = await readdir(migrationsDir, { withFileTypes: true });
  return entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
}

/** Finished migrations of a database, oldest first; empty for a new database. */
export async function appliedNames(client: pg.ClientBase): Promise<string[]> {
  const known = await client.query(`SELECT to_regclass('_prisma_migrations') IS NOT NULL AS known`);
  if (known.rows[0]?.known !== true) return [];
  const applied = await client.query<{ migration_name: string }>(
    'SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL ORDER BY migration_name',
  );
  return applied.rows.map((row) => row.migration_name);
}

async function applyAll(ownerUrl: string, names: string[]): Promise<string[]> {
  const { engine, close } = await openSchemaEngine(ownerUrl);
  try {
    const { appliedMigrationNames } = await engine.applyMigrations({
      migrationsList: {
        baseDir: migrationsDir,
        lockfile: await readLockfile(),
        shadowDbInitScript: '',
        migrationDirectories: await Promise.all(names.map(readMigration)),
      },
      filters: { externalTables: [], externalEnums: [] },
    });
    return appliedMigrationNames;
  } finally {
    await close();
  }
}

async function readLockfile() {
  const content = await readFile(path.join(migrationsDir, 'migration_lock.toml'), 'utf8');
  return { path: 'migration_lock.toml', content };
}

async function readMigration(name: string) {
  const content = await readFile(path.join(migrationsDir, name, 'migration.sql'), 'utf8');
  return {
    path: name,
    migrationFile: { path: 'migration.sql', content: { tag: 'ok' as const, value: content } },
  };
}
