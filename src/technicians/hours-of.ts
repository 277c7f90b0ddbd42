import { localInstant } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { WorkAbsence } from '../platform/database/generated/client.ts';
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

/**
 * The hours of technicians on one local day. Hours belong to the day on which they start, also those
 * that go on past midnight; whoever has no hours written down has none.
 * @param day as `2026-07-14`
 */
export async function hoursOf(
  prisma: Tables,
  technicianIds: readonly string[],
  day: string,
  timeZone: string,
): Promise<Map<string, HoursOfDay>> {
  const ids = [...technicianIds];
  const ofWeek = await weekHours(prisma, ids, day);
  const absences = await absencesOn(prisma, ids, day);
  const spans = (hours: DayHours) => spansOf(day, hours, timeZone);
  return new Map(
    ids.map((id) => {
      const own = absences.filter(({ technicianId }) => technicianId === id);
      // The latest recorded counts.
      const other = own.findLast(({ why }) => why !== 'on_call');
      const worked = other === undefined ? (ofWeek.get(id) ?? []) : hoursIn(other);
      const onCall = own.filter(({ why }) => why === 'on_call').flatMap(hoursIn);
      const absence = other === undefined ? null : toldAbsence(other);
      return [id, { hours: spans(worked), onCall: spans(onCall), absence }];
    }),
  );
}

async function weekHours(
  prisma: Tables,
  ids: string[],
  day: string,
): Promise<Map<string, DayHours>> {
  const weeks = await prisma.workWeek.findMany({
    where: { technicianId: { in: ids }, validFrom: { lte: dateOfDay(day) } },
    orderBy: [
      { technicianId: 'asc' },
      { validFrom: 'desc' },
      { createdAt: 'desc' },
      { id: 'desc' },
    ],
    distinct: ['technicianId'],
  });
  const weekday = dateOfDay(day).getUTCDay() || 7;
  return new Map(
    weeks.map(({ technicianId, hours }) => [
      technicianId,
      weekHoursSchema.parse(hours).filter((each) => each.weekday === weekday),
    ]),
  );
}

function absencesOn(prisma: Tables, ids: string[], day: string): Promise<WorkAbsence[]> {
  const date = dateOfDay(day);
  return prisma.workAbsence.findMany({
    where: {
      technicianId: { in: ids },
      firstDay: { lte: date },
      lastDay: { gte: date },
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
