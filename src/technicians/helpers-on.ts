import { dateOfDay } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import { isTechnician } from './technician-of.ts';

/** Who goes along with whom. */
export interface Pair {
  helper: { id: string; name: string };
  technician: { id: string; name: string };
}

/** Who goes along with a technician on a day. Who has left goes with nobody. */
export async function helpersOn(prisma: Pick<Tx, 'helperDays'>, day: string): Promise<Pair[]> {
  const date = dateOfDay(day);
  const named = { select: { id: true, name: true } };
  return prisma.helperDays.findMany({
    where: {
      firstDay: { lte: date },
      lastDay: { gte: date },
      withdrawnAt: null,
      helper: isTechnician,
      technician: isTechnician,
    },
    orderBy: { id: 'asc' },
    select: { helper: named, technician: named },
  });
}
