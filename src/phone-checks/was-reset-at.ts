import type { Tx } from '../platform/database/database.ts';
import { callbackDays } from '../tickets/index.ts';
import { wasResetIn } from './was-reset-in.ts';
import { withAnswers } from './whole-check.ts';

/** Where and when it is looked at. */
interface Records {
  prisma: Pick<Tx, 'phoneCheck' | 'observation'>;
  now: Date;
}

/**
 * Whether a breaker of a site was reset by phone lately, or told of as tripping again: by any
 * dialogue but `exceptId`, or by a caller whose ticket was solved without one. A breaker that is off
 * after that has tripped a second time, also where that is another ticket: it stays off for as long
 * as the same trouble is a callback.
 */
export async function wasResetAt(
  { prisma, now }: Records,
  siteId: string,
  exceptId?: string,
): Promise<boolean> {
  const since = new Date(now.getTime() - callbackDays * 86_400_000);
  const checks = await prisma.phoneCheck.findMany({
    where: {
      ticket: { siteId },
      answers: { some: { answeredAt: { gte: since } } },
      ...(exceptId !== undefined && { id: { not: exceptId } }),
    },
    include: withAnswers,
  });
  if (checks.some(wasResetIn)) return true;
  const told = await prisma.observation.findFirst({
    where: {
      ticket: { siteId },
      source: 'reported',
      visitId: null,
      recordedAt: { gte: since },
      OR: [
        { code: 'breaker_trips_again' },
        // Whatever was off and is solved by phone was put back.
        { code: 'breaker_found_tripped', answer: 'yes', ticket: { state: 'resolved_by_phone' } },
      ],
    },
    select: { id: true },
  });
  return told !== null;
}
