import type { Sql } from '../platform/database/database.ts';

/** The second factor that somebody has, or has begun to turn on. */
export interface SecondFactor {
  id: string;
  sealedSecret: Uint8Array;
  /** Whether it counts: whoever signs in is asked for a code. */
  isOn: boolean;
}

/** The second factor of somebody that has not ended. */
export async function secondFactorOf(sql: Sql, staffId: string): Promise<SecondFactor | undefined> {
  const found = await sql.query<SecondFactor>(FIND, [staffId]);
  return found.rows[0];
}

/** The one of which somebody is asked for codes. */
export async function factorInForce(sql: Sql, staffId: string): Promise<SecondFactor | undefined> {
  const factor = await secondFactorOf(sql, staffId);
  return factor?.isOn ? factor : undefined;
}

const FIND = `
  SELECT id, sealed_secret AS "sealedSecret", confirmed_at IS NOT NULL AS "isOn"
  FROM staff_second_factor WHERE staff_id = $1 AND ended_at IS NULL`;
