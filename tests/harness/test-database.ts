import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { inject } from 'vitest';
import { type Database, openDatabase } from '../../src/platform/database/database.ts';
import { runOnServer } from './find-server.ts';
import { withDatabase } from './with-database.ts';

/** A fresh, migrated, empty database of one test file. */
export interface TestDatabase {
  url: string;
  /** As the application sees it, with the privileges of its role. */
  db: Database;
  /** As the owner of the schema: whatever this cannot do, nobody can. */
  owner: pg.Pool;
  drop(): Promise<void>;
}

/** Copies the template; call it in `beforeAll` and `drop()` in `afterAll`. */
export async function createTestDatabase(): Promise<TestDatabase> {
  const serverUrl = inject('serverUrl');
  const name = `evenhand_test_${randomBytes(6).toString('hex')}`;
  await runOnServer(serverUrl, `CREATE DATABASE ${name} TEMPLATE ${inject('templateName')}`);
  const url = withDatabase(serverUrl, name);
  const db = await openDatabase({ url, poolMax: 10, role: 'evenhand_app' });
  const owner = new pg.Pool({ connectionString: url, max: 5, options: '-c timezone=UTC' });
  owner.on('error', () => undefined);
  return {
    url,
    db,
    owner,
    drop: async () => {
      await db.close();
      await owner.end();
      await runOnServer(serverUrl, `DROP DATABASE ${name} WITH (FORCE)`);
    },
  };
}

/** A database with nothing in it, not even the schema. */
export async function createEmptyDatabase(): Promise<{ url: string; drop(): Promise<void> }> {
  const serverUrl = inject('serverUrl');
  const name = `evenhand_empty_${randomBytes(6).toString('hex')}`;
  await runOnServer(serverUrl, `CREATE DATABASE ${name}`);
  return {
    url: withDatabase(serverUrl, name),
    drop: () => runOnServer(serverUrl, `DROP DATABASE ${name} WITH (FORCE)`),
  };
}
