/**
 * A time of day as people write it, as minutes since midnight: 9:05, 09:05, 9:05 am, 1:30 PM, 13:30.
 * @returns undefined for what is no such time
 */
export function readClock(cell: string): number | undefined {
  const { hour, minute, half } = CLOCK.exec(cell)?.groups ?? {};
  if (hour === undefined || minute === undefined) return undefined;
  const shown = Number(hour);
  if (Number(minute) > 59) return undefined;
  if (half === undefined) return shown > 23 ? undefined : shown * 60 + Number(minute);
  if (shown < 1 || shown > 12) return undefined;
  const afternoon = half.toLowerCase().startsWith('p') ? 12 : 0;
  return ((shown % 12) + afternoon) * 60 + Number(minute);
}

const CLOCK = /^(?<hour>\d{1,2}):(?<minute>\d{2})\s*(?<half>am|pm|a\.m\.|p\.m\.)?$/i;

/** Minutes since midnight as `09:05`. */
export function clockText(minutes: number): string {
  const hour = String(Math.floor(minutes / 60)).padStart(2, '0');
  return `${hour}:${String(minutes % 60).padStart(2, '0')}`;
}

/**
 * Minutes between two times of day. Who leaves at an earlier time than that of arriving has worked
 * past midnight, but nobody does for more than twelve hours.
 * @returns undefined where it would be more
 */
export function minutesBetween(arrived: number, left: number): number | undefined {
  if (left >= arrived) return left - arrived;
  const pastMidnight = left + MINUTES_OF_DAY - arrived;
  return pastMidnight <= MINUTES_OF_DAY / 2 ? pastMidnight : undefined;
}

const MINUTES_OF_DAY = 1_440;
