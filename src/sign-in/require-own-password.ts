import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError, wrongField } from '../platform/http/problem.ts';
import type { EntranceContext } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import { isPassword } from './hash-password.ts';
import { type LockedStaff, lockStaff } from './lock-staff.ts';
import { paceOfAccount, paceSignIn } from './pace-sign-in.ts';

/** Whoever is signed in, as they stand, with the hash of the password that they have. */
export interface OwnAccount extends LockedStaff {
  hash: string;
}

/**
 * Whoever asks, who has to have a password.
 * @throws ProblemError 409 where they have none yet
 */
export async function ownAccount(context: EntranceContext): Promise<OwnAccount> {
  const { id } = actorOf(context);
  const kept = await inTx(context.db, (tx) => lockStaff(tx, id));
  if (kept === undefined || kept.hash === null) {
    throw new ProblemError(
      'not-allowed-now',
      'You have no password yet. Ask the owner for a link.',
      { currentState: 'no_password', allowedActions: [] },
    );
  }
  return { ...kept, hash: kept.hash };
}

/**
 * Has whoever is signed in show their password once more: a session left open is not enough for what
 * decides who comes in.
 * @throws ProblemError 400 for a wrong one, 429 where it was tried too often
 */
export async function requireOwnPassword(
  { db, now }: EntranceContext,
  { id, hash }: OwnAccount,
  password: string,
): Promise<void> {
  await paceSignIn(db, [paceOfAccount(`of ${id}`)], now);
  if (!(await isPassword(password, hash))) throw wrongPassword();
}

/** The refusal for a password that is not theirs, or no more. */
export function wrongPassword(): ProblemError {
  return wrongField('/password', 'wrong_password', 'This is not your present password.');
}
