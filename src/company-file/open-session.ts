import pg from 'pg';

/**
 * Opens a connection on which values are written one way, whatever the server's or the login's own
 * settings are. Moving a company takes as long as it takes, so nothing is cut short.
 */
export async function openSession(url: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: url });
  // A connection that is lost fails the statement under way, which tells of it.
  client.on('error', () => undefined);
  await client.connect();
  try {
    for (const [name, value] of SETTINGS) {
      await client.query('SELECT set_config($1, $2, false)', [name, value]);
    }
  } catch (error) {
    await client.end();
    throw error;
  }
  return client;
}

const SETTINGS = [
  ['search_path', 'public'],
  ['TimeZone', 'UTC'],
  ['DateStyle', 'ISO, YMD'],
  ['IntervalStyle', 'iso_8601'],
  ['bytea_output', 'hex'],
  // The shortest digits that give the same number back.
  ['extra_float_digits', '1'],
  ['statement_timeout', '0'],
  ['idle_in_transaction_session_timeout', '0'],
] as const;
