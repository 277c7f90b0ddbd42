import { appendJournal } from '../journal/index.ts';
import { visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import type { ActContext } from '../platform/http/route.ts';
import { refuseTripWithoutFee } from './refuse-trip-without-fee.ts';

/**
 * Refuses to book a locked visit anew once somebody has arrived for it, or on its trip; in another
 * window also while others rest on its fee.
 * @param how `give` is to another technician alone, `rebook` anything else
 * @throws ProblemError 409
 */
export async function requireMovable(
  act: ActContext,
  visit: Visit,
  how: 'give' | 'rebook',
): Promise<void> {
  moveOrRefuse('visit', visitLifecycle, visit.state, 'cancel');
  await refuseTripWithoutFee(act, visit, how);
}

/** Cancels a locked visit in whose place another is booked; its ticket stays booked. */
export async function cancelForMove(act: ActContext, visit: Visit, reason: string): Promise<void> {
  const state = moveOrRefuse('visit', visitLifecycle, visit.state, 'cancel');
  await act.tx.visit.update({
    where: { id: visit.id },
    data: { state, version: visit.version + 1, endNote: reason },
  });
  await appendJournal(act, {
    event: 'visit.moved',
    subject: { kind: 'visit', id: visit.id },
    before: { state: visit.state },
    after: { state },
  });
}
