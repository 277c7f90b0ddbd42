import { companyOf, localDay } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import { hoursOf } from './hours-of.ts';
import { type LiveVisit, liveVisitsOn } from './live-visits-on.ts';

type Tables = Pick<Tx, 'company' | 'visit' | 'workAbsence' | 'workWeek'>;

/**
 * What is booked with a technician on some local days and not within their hours. Work that begins
 * on one of the days at night may lie in the hours of the day before.
 * @param days the first and the last of them, as `2026-07-14`
 */
export async function visitsOutsideHours(
  prisma: Tables,
  technicianId: string,
  days: { firstDay: string; lastDay: string },
): Promise<LiveVisit['told'][]> {
  const { timeZone } = await companyOf(prisma);
  const outside: LiveVisit['told'][] = [];
  for (const { work, told } of await liveVisitsOn(prisma, technicianId, days)) {
    const day = localDay(work.start, timeZone);
    const spans: Span[] = [];
    for (const each of [plusDays(day, -1), day]) {
      const ofDay = (await hoursOf(prisma, [technicianId], each, timeZone)).get(technicianId);
      spans.push(...(ofDay?.hours ?? []));
    }
    if (!spans.some((span) => holds(span, work))) outside.push(told);
  }
  return outside;
}

function holds({ from, to }: Span, { start, end }: LiveVisit['work']): boolean {
  return from * 60_000 <= start.getTime() && end.getTime() <= to * 60_000;
}
