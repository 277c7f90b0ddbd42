import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { startEmbedded } from '../../src/platform/database/embedded/index.ts';

/** A real Postgres and a role on it that may create databases. */
export interface FoundServer {
  url: string;
  /** Stops what was started here; a server of somebody else is left alone. */
  stop(): Promise<void>;
}

/** The server DATABASE_URL names, or an embedded one in a temporary folder. */
export async function findServer(): Promise<FoundServer> {
  const given = process.env['DATABASE_URL'];
  if (given) return { url: given, stop: async () => undefined };
  const dataDir = await mkdtemp(path.join(tmpdir(), 'evenhand-server-'));
  const server = await startEmbedded({ dataDir });
  return {
    url: server.superuserUrl,
    stop: async () => {
      await server.stop();
      await rm(dataDir, { recursive: true, force: true });
    },
  };
}

/** Sends one statement on a connection of its own, such as one that makes a database. */
export async function runOnServer(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
