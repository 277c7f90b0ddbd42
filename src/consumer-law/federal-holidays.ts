import { type Day, plusDays, weekdayOf } from './calendar.ts';

/**
 * The holidays of the federal government of the United States in a year (5 U.S.C. 6103(a)), each on
 * its own day and, where that falls on a weekend, also on the weekday that is kept instead (6103(b)
 * and Executive Order 11582, from memory). Counting both never shortens a customer's time.
 */
export function federalHolidays(year: number): Day[] {
  const own = [...FIXED.map((monthDay) => `${year}-${monthDay}`), ...movable(year)];
  // New Year's Day of the next year may be kept on the last day of this one.
  const kept = [...own, `${year + 1}-01-01`]
    .map(keptOn)
    .filter((day) => day.startsWith(`${year}-`));
  return [...new Set([...own, ...kept])].sort();
}

// New Year's Day, Juneteenth, Independence Day, Veterans Day, Christmas Day.
const FIXED = ['01-01', '06-19', '07-04', '11-11', '12-25'];

const [MONDAY, THURSDAY, SATURDAY, SUNDAY] = [1, 4, 6, 7];

function movable(year: number): Day[] {
  return [
    nth(year, '01', MONDAY, 3), // Birthday of Martin Luther King, Jr.
    nth(year, '02', MONDAY, 3), // Washington's Birthday
    lastMondayOfMay(year), // Memorial Day
    nth(year, '09', MONDAY, 1), // Labor Day
    nth(year, '10', MONDAY, 2), // Columbus Day
    nth(year, '11', THURSDAY, 4), // Thanksgiving Day
  ];
}

function nth(year: number, month: string, weekday: number, count: number): Day {
  const first = `${year}-${month}-01`;
  const offset = (weekday - weekdayOf(first) + 7) % 7;
  return plusDays(first, offset + 7 * (count - 1));
}

function lastMondayOfMay(year: number): Day {
  const last = `${year}-05-31`;
  return plusDays(last, -(weekdayOf(last) - MONDAY));
}

function keptOn(day: Day): Day {
  if (weekdayOf(day) === SATURDAY) return plusDays(day, -1);
  if (weekdayOf(day) === SUNDAY) return plusDays(day, 1);
  return day;
}
