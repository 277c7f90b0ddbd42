import { sqlOf, type Tx } from '../platform/database/database.ts';
import { wrongField } from '../platform/http/problem.ts';

/**
 * Days are told by the database, too, and what it does not know it would refuse in the middle of work.
 * @throws ProblemError 400
 */
export async function requireKnownZone(tx: Tx, timeZone: string): Promise<void> {
  const { rows } = await sqlOf(tx).query('SELECT FROM pg_timezone_names WHERE name = $1', [
    timeZone,
  ]);
  if (rows.length > 0) return;
  throw wrongField('/timeZone', 'unknown', 'The database does not know this time zone.');
}
