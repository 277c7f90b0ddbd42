import { momentTold } from '../platform/http/moment-told.ts';
import { ProblemError, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/** What money cannot have come or gone before. */
export interface Earliest {
  at: Date;
  /** In words, as `the ticket was opened`. */
  what: string;
}

/**
 * When money changed hands: now, unless the request says that it was earlier. A clock a little fast
 * is forgiven, and then it was now.
 * @throws ProblemError 400 for a moment that has not come or that is before `earliest`, 403 for
 *   anybody but the owner when it is more than two days back
 */
export function moneyMovedAt(
  act: ActContext,
  pointer: string,
  told: string | undefined,
  earliest: Earliest,
): Date {
  const at = momentTold(act, pointer, told);
  if (at > act.now) return act.now;
  if (at < earliest.at) {
    const message = `is before ${earliest.what}, at ${earliest.at.toISOString()}`;
    throw wrongField(pointer, 'too_early', message);
  }
  if (act.now.getTime() - at.getTime() > BACKDATED_MAX_MS) refuseBackdating(act);
  return at;
}

const BACKDATED_MAX_MS = 2 * 86_400_000;

function refuseBackdating({ actor }: ActContext): void {
  if (actor.role === 'owner') return;
  const message = 'Money of more than two days ago is the owner’s to write down.';
  throw new ProblemError('forbidden', message, { role: actor.role, allowedRoles: ['owner'] });
}
