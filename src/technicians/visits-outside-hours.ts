import { companyOf, localDay } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import { hoursOnDays } from './hours-on-days.ts';
import { type LiveDays, type LiveVisit, liveVisitsOn } from './live-visits-on.ts';

type Tables = Pick<Tx, 'company' | 'visit' | 'workAbsence' | 'workWeek'>;

/** Which hours keep a visit where it is. */
export type Within = 'hours' | 'hours_or_on_call';

/**
 * What is booked with a technician on some local days and not within their hours. Work that begins
 * on one of the days at night may lie in the hours of the day before.
 */
export async function visitsOutsideHours(
  prisma: Tables,
  technicianId: string,
  days: LiveDays,
  within: Within,
): Promise<LiveVisit['told'][]> {
  const { timeZone } = await companyOf(prisma);
  const booked = (await liveVisitsOn(prisma, technicianId, days)).map((visit) => {
    const day = localDay(visit.work.start, timeZone);
    return { ...visit, days: [plusDays(day, -1), day] };
  });
  const asked = [...new Set(booked.flatMap((visit) => visit.days))];
  const byDay = (await hoursOnDays(prisma, [technicianId], asked, timeZone)).get(technicianId);
  const spansOn = (day: string): readonly Span[] => {
    const { hours = [], onCall = [] } = byDay?.get(day) ?? {};
    return within === 'hours' ? hours : [...hours, ...onCall];
  };
  return booked
    .filter(({ work, days: ofWork }) => !ofWork.flatMap(spansOn).some((span) => holds(span, work)))
    .map(({ told }) => told);
}

function holds({ from, to }: Span, { start, end }: LiveVisit['work']): boolean {
  return from * 60_000 <= start.getTime() && end.getTime() <= to * 60_000;
}
