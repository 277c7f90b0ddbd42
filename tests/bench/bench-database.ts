import { randomBytes } from 'node:crypto';
import { migrate } from '../../src/platform/database/migrate.ts';
import { findServer, runOnServer } from '../harness/find-server.ts';
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
  await runOnServer(server.url, `CREATE DATABASE ${name}`);
  const url = withDatabase(server.url, name);
  await migrate(url);
  return {
    url,
    drop: async () => {
      await runOnServer(server.url, `DROP DATABASE ${name} WITH (FORCE)`);
      await server.stop();
    },
  };
}
