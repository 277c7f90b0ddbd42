import { localInstant } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { WorkAbsence, WorkWeek } from '../platform/database/generated/client.ts';
import {
  type AbsenceWhy,
  absenceWhySchema,
  type DayHours,
  dayHoursSchema,
  weekHoursSchema,
} from './contract.ts';

type Tables = Pick<Tx, 'workAbsence' | 'workWeek'>;

/** When somebody works on one day, in epoch minutes. */
export interface HoursOfDay {
  readonly hours: readonly Span[];
  /** When they come if they are called, beside their hours. */
  readonly onCall: readonly Span[];
  /** What takes the place of the hours of the week that day, if anything does. */
  readonly absence: { id: string; why: AbsenceWhy; lastDay: string } | null;
}

/** When somebody works on each of some days, by the day as `2026-07-14`. */
export type HoursByDay = ReadonlyMap<string, HoursOfDay>;

/**
 * The hours of technicians on some local days, by two statements however many days they are. Hours
 * belong to the day on which they start, also those that go on past midnight; whoever has no hours
 * written down has none.
 * @param days as `2026-07-14`, in any order
 * @returns by the identifier of the technician
 */
export async function hoursOnDays(
  prisma: Tables,
  technicianIds: readonly string[],
  days: readonly string[],
  timeZone: string,
): Promise<Map<string, HoursByDay>> {
  const ids = [...technicianIds];
  const sorted = [...days].sort();
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return new Map(ids.map((id) => [id, new Map()]));
  const weeks = await weeksUntil(prisma, ids, last);
  const absences = await absencesIn(prisma, ids, first, last);
  return new Map(
    ids.map((id) => {
      const own = {
        weeks: weeks.filter(({ technicianId }) => technicianId === id),
        absences: absences.filter(({ technicianId }) => technicianId === id),
      };
      return [id, new Map(sorted.map((day) => [day, hoursBy(own, day, timeZone)]))];
    }),
  );
}

interface OnRecord {
  /** The one that counts last. */
  weeks: readonly WorkWeek[];
  absences: readonly WorkAbsence[];
}

function hoursBy({ weeks, absences }: OnRecord, day: string, timeZone: string): HoursOfDay {
  const date = dateOfDay(day);
  const then = absences.filter(({ firstDay, lastDay }) => firstDay <= date && lastDay >= date);
  // The latest recorded counts.
  const other = then.findLast(({ why }) => why !== 'on_call');
  const week = weeks.findLast(({ validFrom }) => validFrom <= date);
  const worked = other === undefined ? hoursOfWeekday(week, date) : hoursIn(other);
  const onCall = then.filter(({ why }) => why === 'on_call').flatMap(hoursIn);
  return {
    hours: spansOf(day, worked, timeZone),
    onCall: spansOf(day, onCall, timeZone),
    absence: other === undefined ? null : toldAbsence(other),
  };
}

function hoursOfWeekday(week: WorkWeek | undefined, date: Date): DayHours {
  const weekday = date.getUTCDay() || 7;
  const hours = week === undefined ? [] : weekHoursSchema.parse(week.hours);
  return hours.filter((each) => each.weekday === weekday);
}

function weeksUntil(prisma: Tables, ids: string[], last: string): Promise<WorkWeek[]> {
  return prisma.workWeek.findMany({
    where: { technicianId: { in: ids }, validFrom: { lte: dateOfDay(last) } },
    orderBy: [{ validFrom: 'asc' }, { createdAt: 'asc' }, { id: 'asc' }],
  });
}

function absencesIn(
  prisma: Tables,
  ids: string[],
  first: string,
  last: string,
): Promise<WorkAbsence[]> {
  return prisma.workAbsence.findMany({
    where: {
      technicianId: { in: ids },
      firstDay: { lte: dateOfDay(last) },
      lastDay: { gte: dateOfDay(first) },
      withdrawnAt: null,
    },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });
}

function hoursIn({ hours }: WorkAbsence): DayHours {
  return dayHoursSchema.parse(hours);
}

function toldAbsence({ id, why, lastDay }: WorkAbsence): HoursOfDay['absence'] {
  return { id, why: absenceWhySchema.parse(why), lastDay: dayText(lastDay) };
}

/** In order, and joined where they touch: around a skipped hour what was apart may meet. */
function spansOf(day: string, hours: DayHours, timeZone: string): Span[] {
  const minuteOf = (minute: number) => localInstant(day, minute, timeZone).getTime() / 60_000;
  const given = hours
    .map(({ startMinute, endMinute }) => ({ from: minuteOf(startMinute), to: minuteOf(endMinute) }))
    .filter(({ from, to }) => to > from)
    .sort((one, other) => one.from - other.from);
  const joined: Span[] = [];
  for (const { from, to } of given) {
    const last = joined.at(-1);
    if (last === undefined || from > last.to) joined.push({ from, to });
    else joined.splice(-1, 1, { from: last.from, to: Math.max(last.to, to) });
  }
  return joined;
}
