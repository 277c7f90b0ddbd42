import { randomBytes } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
import { withDatabase } from '../harness/with-database.ts';

/** A migrated, empty database of one measurement. */
export interface BenchDatabase {
  /** As the owner of the schema. */
  url: string;
  drop(): Promise<void>;
}

/** On the server DATABASE_URL names, or on an embedded one in a temporary folder. */
export async function createBenchDatabase(): Promise<BenchDatabase> {
  const server = await findServer();
  const name = `evenhand_bench_${randomBytes(6).toString('hex')}`;
  await admin(server.url, `CREATE DATABASE ${name}`);
  const url = withDatabase(server.url, name);
  await migrate(url);
  return {
    url,
    drop: async () => {
      await admin(server.url, `DROP DATABASE ${name} WITH (FORCE)`);
      await server.stop();
    },
  };
}

async function findServer(): Promise<{ url: string; stop(): Promise<void> }> {
  const given = process.env['DATABASE_URL'];
  if (given) return { url: given, stop: async () => undefined };
  const dataDir = await mkdtemp(path.join(tmpdir(), 'evenhand-bench-'));
  const server = await startEmbedded({ dataDir });
  return {
    url: server.superuserUrl,
    stop: async () => {
      await server.stop();
      await rm(dataDir, { recursive: true, force: true });
    },
  };
}

async function admin(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
