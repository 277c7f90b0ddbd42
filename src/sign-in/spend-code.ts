import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { RightCode } from './check-code.ts';

/**
 * Uses a right code up, with its person locked. Of two who show the same one, the second finds it used:
 * the step of a factor only grows, and a recovery code is used once.
 * @returns whether it was still good
 */
export async function spendCode(tx: Tx, code: RightCode, now: Date): Promise<boolean> {
  const sql = sqlOf(tx);
  const spent =
    code.kind === 'of_app'
      ? await sql.query(SPEND_STEP, [code.factorId, code.step])
      : await sql.query(SPEND_RECOVERY, [code.factorId, code.place, now]);
  return spent.rows.length > 0;
}

const SPEND_STEP = `
  UPDATE staff_second_factor SET last_step = $2
  WHERE id = $1 AND ended_at IS NULL AND last_step < $2 RETURNING id`;

const SPEND_RECOVERY = `
  UPDATE staff_recovery_code c SET used_at = $3
  FROM staff_second_factor f
  WHERE c.second_factor_id = $1 AND c.place = $2 AND c.used_at IS NULL
    AND f.id = c.second_factor_id AND f.ended_at IS NULL
  RETURNING c.place`;
