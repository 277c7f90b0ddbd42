import { randomBytes } from 'node:crypto';
import pg from 'pg';
import type { Config } from '../config.ts';
import { type EmbeddedServer, startEmbedded } from './embedded/index.ts';
import { requireReachable } from './require-reachable.ts';

/** Where the database is, and for whom. */
export interface ProvidedDatabase {
  /** For migrations: the role that owns the schema. */
  ownerUrl: string;
  /** For the application. */
  appUrl: string;
  /** Resolves when an embedded server ends by itself; never for a server of somebody else. */
  unexpectedEnd?: Promise<Error>;
  /** Stops what was started here; a server of somebody else is left alone. */
  stop(): Promise<void>;
}

/** The role whose privileges the application has, whichever login it comes by. */
export const APP_ROLE = 'evenhand_app';

const OWNER_ROLE = 'evenhand_owner';
const DATABASE = 'evenhand';

/**
 * Finds the database: the real server the configuration names, or our own embedded one.
 * @throws Error when that server does not let its owner in; EmbeddedError when the embedded one
 *   cannot start, with what to do about it
 */
export async function provideDatabase(
  config: Pick<Config, 'databaseUrl' | 'databaseOwnerUrl' | 'dataDir'>,
  log: (line: string) => void,
): Promise<ProvidedDatabase> {
  if (config.databaseUrl !== undefined) {
    const ownerUrl = config.databaseOwnerUrl ?? config.databaseUrl;
    await requireReachable(ownerUrl);
    return { ownerUrl, appUrl: config.databaseUrl, stop: async () => undefined };
  }
  const server = await startEmbedded({ dataDir: config.dataDir, log });
  try {
    return await provision(server);
  } catch (error) {
    await server.stop();
    throw error;
  }
}

// Passwords live as long as the process: every start sets new ones, so none is kept on disk but
// the administrator's own.
async function provision(server: EmbeddedServer): Promise<ProvidedDatabase> {
  const password = randomBytes(24).toString('base64url');
  await asSuperuser(server.superuserUrl, async (client) => {
    await ensureRole(client, OWNER_ROLE, 'CREATEROLE', password);
    // Made here as well as in the migrations, so that the login is ready before they run.
    await ensureRole(client, APP_ROLE, 'NOCREATEROLE', password);
    await client.query(`GRANT ${APP_ROLE} TO ${OWNER_ROLE} WITH ADMIN OPTION`);
    const known = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [DATABASE]);
    if (known.rowCount === 0) await client.query(`CREATE DATABASE ${DATABASE} OWNER ${OWNER_ROLE}`);
  });
  return {
    ownerUrl: server.urlFor(DATABASE, { name: OWNER_ROLE, password }),
    appUrl: server.urlFor(DATABASE, { name: APP_ROLE, password }),
    unexpectedEnd: server.unexpectedEnd,
    stop: server.stop,
  };
}

async function ensureRole(
  client: pg.Client,
  name: string,
  attribute: string,
  password: string,
): Promise<void> {
  const known = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [name]);
  if (known.rowCount === 0) await client.query(`CREATE ROLE ${name}`);
  await client.query(
    `ALTER ROLE ${name} LOGIN ${attribute} PASSWORD ${client.escapeLiteral(password)}`,
  );
}

async function asSuperuser(
  superuserUrl: string,
  work: (client: pg.Client) => Promise<unknown>,
): Promise<void> {
  const client = new pg.Client({ connectionString: superuserUrl });
  await client.connect();
  try {
    await work(client);
  } finally {
    await client.end();
  }
}
