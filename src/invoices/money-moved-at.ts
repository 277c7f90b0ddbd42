import { momentTold } from '../platform/http/moment-told.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { refuseBackdating } from './refuse-backdating.ts';

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
export async function moneyMovedAt(
  act: ActContext,
  pointer: string,
  told: string | undefined,
  earliest: Earliest,
): Promise<Date> {
  const at = momentTold(act, pointer, told);
  if (at > act.now) return act.now;
  if (at < earliest.at) {
    const message = `is before ${earliest.what}, at ${earliest.at.toISOString()}`;
    throw wrongField(pointer, 'too_early', message);
  }
  await refuseBackdating(act, 'Money', at);
  return at;
}
