import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { CalendarFeed } from '../platform/database/generated/client.ts';
import type { calendarFeedSchema } from './contract.ts';

type FeedBody = z.input<typeof calendarFeedSchema>;

/** Calendars as the API shows them: never with their addresses, which nobody has. */
export async function feedBodies(
  prisma: Pick<Tx, 'staff'>,
  feeds: readonly CalendarFeed[],
): Promise<FeedBody[]> {
  const makers = await prisma.staff.findMany({
    where: { id: { in: feeds.map(({ createdById }) => createdById) } },
    select: { id: true, name: true },
  });
  const names = new Map(makers.map(({ id, name }) => [id, name]));
  return feeds.map(({ id, technicianId, createdById, createdAt, revokedAt }) => ({
    id,
    technicianId,
    madeBy: { staffId: createdById, staffName: names.get(createdById) ?? '' },
    createdAt: createdAt.toISOString(),
    revokedAt: revokedAt?.toISOString() ?? null,
  }));
}

/** One of them. */
export async function feedBody(prisma: Pick<Tx, 'staff'>, feed: CalendarFeed): Promise<FeedBody> {
  const [body] = await feedBodies(prisma, [feed]);
  if (body === undefined) throw new Error('one calendar has one answer');
  return body;
}
