import pg from 'pg';

const PATIENCE_MS = 5_000;

/**
 * Makes sure that a server answers and lets us in, before anything else is tried with it.
 * @throws Error in plain words for whoever wrote the connection string, without its password
 */
export async function requireReachable(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: PATIENCE_MS });
  // A server that ends the connection while we let go of it has answered already.
  client.on('error', () => undefined);
  try {
    await client.connect();
  } catch (error) {
    throw new Error(`The database at ${client.host}:${client.port} ${whyUnreachable(error)}`, {
      cause: error,
    });
  }
  await client.end();
}

/** What a server does instead of answering, in words that follow its name. */
export function whyUnreachable(error: unknown): string {
  // The server's own words name the login and the database, never the password.
  if (error instanceof pg.DatabaseError) return `does not let us in: ${error.message}`;
  const { code: given = '', message } = error as { code?: unknown; message?: string };
  // The driver gives its own patience, when it is at an end, no code.
  const code = /timeout/i.test(String(message)) ? 'ETIMEDOUT' : String(given);
  return `cannot be reached: ${UNREACHABLE[code] ?? 'it does not answer as PostgreSQL does'}`;
}

const UNREACHABLE: Record<string, string> = {
  ECONNREFUSED: 'nothing listens there',
  ENOTFOUND: 'no such host is known',
  EAI_AGAIN: 'no such host is known',
  EHOSTUNREACH: 'there is no way to that host',
  ENETUNREACH: 'there is no way to that host',
  ECONNRESET: 'it hung up',
  ETIMEDOUT: 'it does not answer',
};
