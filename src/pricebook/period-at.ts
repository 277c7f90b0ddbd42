import { localMoment } from '../company/index.ts';
import type { SchedulePeriod } from './contract.ts';

/**
 * The row of the fee schedule that covers an instant on the company's clock: the first whose hours
 * hold it, or the last, which covers the rest. Hours that end before they start run past midnight
 * and belong to the weekday on which they start.
 */
export function periodAt(
  periods: readonly SchedulePeriod[],
  instant: Date,
  timeZone: string,
): SchedulePeriod {
  return periodAtMoment(periods, localMoment(instant, timeZone));
}

/** The same, by what the company's clock shows: the weekday, 1 is Monday, and minutes of the day. */
export function periodAtMoment(
  periods: readonly SchedulePeriod[],
  moment: { weekday: number; minutes: number },
): SchedulePeriod {
  const found = periods.find(({ hours }) => hours === null || covers(hours, moment));
  if (found === undefined) throw new Error('a fee schedule ends with a row that covers the rest');
  return found;
}

type Hours = NonNullable<SchedulePeriod['hours']>;

function covers(hours: Hours, { weekday, minutes }: { weekday: number; minutes: number }): boolean {
  const from = minutesOf(hours.from);
  const to = minutesOf(hours.to);
  if (from < to) return hours.weekdays.includes(weekday) && minutes >= from && minutes < to;
  const yesterday = weekday === 1 ? 7 : weekday - 1;
  return (
    (hours.weekdays.includes(weekday) && minutes >= from) ||
    (hours.weekdays.includes(yesterday) && minutes < to)
  );
}

function minutesOf(timeOfDay: string): number {
  const [hours = 0, minutes = 0] = timeOfDay.split(':').map(Number);
  return hours * 60 + minutes;
}
