import type { z } from 'zod';
import type { ReadContext } from '../platform/http/route.ts';
import { technicianOf } from '../technicians/index.ts';
import type { calendarFeedSchema } from './contract.ts';
import { feedBodies } from './feed-body.ts';

/**
 * The calendars of a technician, newest first, revoked ones too; of very many the newest hundred.
 * @throws ProblemError 404 for nobody's, and for a technician who asks for another's
 */
export async function listFeeds(
  { prisma, actor }: Pick<ReadContext, 'prisma' | 'actor'>,
  technicianId: string,
): Promise<z.input<typeof calendarFeedSchema>[]> {
  await technicianOf(prisma, actor, technicianId);
  const feeds = await prisma.calendarFeed.findMany({
    where: { technicianId },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: 100,
  });
  return feedBodies(prisma, feeds);
}
