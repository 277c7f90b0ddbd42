import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { calendarFeedSchema } from './contract.ts';
import { feedBody } from './feed-body.ts';

/**
 * Makes a calendar's address worthless, once; also that of somebody who has left.
 * @throws ProblemError 404 for nobody's, and for a technician who means another's; 409 for one that
 *   is worthless already
 */
export async function revokeFeed(
  act: ActContext,
  feedId: string,
): Promise<z.input<typeof calendarFeedSchema>> {
  const { role, id: actorId } = act.actor;
  const own = role === 'technician' ? { technicianId: actorId } : {};
  const feed = await act.tx.calendarFeed.findUnique({ where: { id: feedId, ...own } });
  if (feed === null) throw notFound('calendar');
  // Of two who revoke it at once, one finds nothing left to do.
  const revoked = await act.tx.calendarFeed.updateMany({
    where: { id: feedId, revokedAt: null },
    data: { revokedAt: act.now },
  });
  if (revoked.count === 0) {
    throw new ProblemError('not-allowed-now', 'This calendar is revoked already.', {
      currentState: 'revoked',
      allowedActions: [],
    });
  }
  await appendJournal(act, {
    event: 'calendar_feed.revoked',
    subject: { kind: 'calendar_feed', id: feedId },
    before: { technicianId: feed.technicianId },
  });
  return feedBody(act.tx, { ...feed, revokedAt: act.now });
}
