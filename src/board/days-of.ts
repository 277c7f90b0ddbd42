import { localDay } from '../company/index.ts';
import { plusDays } from '../platform/calendar-day.ts';

/**
 * The days on whose boards work may stand, in order: the local days that it lies on, and the one
 * before, because work after midnight belongs to the night shift of the day that it began on. Work
 * that ends at a midnight lies before it.
 */
export function daysOf(start: Date, end: Date, timeZone: string): string[] {
  const last = localDay(new Date(Math.max(start.getTime(), end.getTime() - 1)), timeZone);
  const days: string[] = [];
  for (let day = plusDays(localDay(start, timeZone), -1); day <= last; day = plusDays(day, 1)) {
    days.push(day);
  }
  return days;
}
