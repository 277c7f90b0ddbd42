import { minutesText } from '../../pricing/index.ts';

const MINUTE_MS = 60_000;
const HOUR_MINUTES = 60;
const DAY_MINUTES = 24 * HOUR_MINUTES;

/** How long it is from one instant to a later one, in units that people would say; never rounded up. */
export function spanText(from: string, to: string): string {
  const minutes = Math.floor(millisecondsBetween(from, to) / MINUTE_MS);
  if (minutes < 1) return 'less than a minute';
  if (minutes < 2 * HOUR_MINUTES) return minutesText(minutes);
  if (minutes < 2 * DAY_MINUTES) return `${Math.floor(minutes / HOUR_MINUTES)} hours`;
  return `${Math.floor(minutes / DAY_MINUTES)} days`;
}

/** Instants are compared as numbers: as texts a fraction of a second would change their order. */
export function millisecondsBetween(from: string, to: string): number {
  return Date.parse(to) - Date.parse(from);
}
