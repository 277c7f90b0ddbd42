import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';
import type { ActContext } from '../platform/http/route.ts';
import { technicianOf } from '../technicians/index.ts';
import type { madeCalendarFeedSchema } from './contract.ts';
import { feedBody } from './feed-body.ts';

/**
 * Makes an address at which a calendar reads the visits of a technician, until it is revoked. Each
 * device may have its own, so that losing one costs the others nothing.
 * @returns it with its address, which is known from here alone
 * @throws ProblemError 404 for nobody's, and for a technician who asks for another's
 */
export async function makeFeed(
  act: ActContext,
  technicianId: string,
): Promise<z.input<typeof madeCalendarFeedSchema>> {
  await technicianOf(act.tx, act.actor, technicianId);
  const token = newToken();
  const feed = await act.tx.calendarFeed.create({
    data: {
      id: act.newId(),
      technicianId,
      tokenHash: hashOfToken(token),
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'calendar_feed.made',
    subject: { kind: 'calendar_feed', id: feed.id },
    after: { technicianId },
  });
  return { ...(await feedBody(act.tx, feed)), url: act.addressOf(`/calendar/${token}.ics`) };
}
