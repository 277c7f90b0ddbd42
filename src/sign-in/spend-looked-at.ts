import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { RightCode } from './check-code.ts';
import type { LookedAt } from './look-at-code.ts';
import { factorInForce } from './second-factor-of.ts';
import { spendCode } from './spend-code.ts';

/** What was shown besides the password. */
export type Shown = 'nothing' | RightCode['kind'];

/** What is still missing besides the password. */
export type NotShown = 'code_missing' | 'code_wrong';

/**
 * What somebody who is locked has shown besides the password, used up by it; or what is still missing.
 * A second factor that was turned on or renewed since the code was looked at asks for another code.
 */
export async function spendLookedAt(
  tx: Tx,
  staffId: string,
  { code, right }: LookedAt,
  now: Date,
): Promise<Shown | NotShown> {
  const factor = await factorInForce(sqlOf(tx), staffId);
  if (factor === undefined) return 'nothing';
  if (code === undefined) return 'code_missing';
  if (right?.factorId !== factor.id || !(await spendCode(tx, right, now))) return 'code_wrong';
  return right.kind;
}
