import type { EntranceContext } from '../platform/http/route.ts';
import { checkCode, type RightCode } from './check-code.ts';
import { factorInForce } from './second-factor-of.ts';

/** A code that was typed, or none, and what it is where one is asked for and it is right. */
export interface LookedAt {
  code: string | undefined;
  right: RightCode | undefined;
}

/**
 * Looks at the code of whoever has shown their password, before anything is locked: a recovery code is
 * hashed slowly. It is used up later, by `spendLookedAt`.
 * @throws ProblemError 429 where it was tried too often
 */
export async function lookAtCode(
  context: EntranceContext,
  staffId: string,
  code: string | undefined,
): Promise<LookedAt> {
  if (code === undefined) return { code, right: undefined };
  const factor = await factorInForce(context.sql, staffId);
  return { code, right: factor && (await checkCode(context, staffId, factor, code)) };
}
