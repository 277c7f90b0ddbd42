import { endOfLocalDay } from './local-time.ts';

/**
 * The instants between which local days lie, the last one included: from the midnight that begins
 * the first to the midnight that ends the last.
 * @param first as `2026-07-14`
 */
export function localDays(first: string, last: string, timeZone: string): { from: Date; to: Date } {
  return { from: midnightAfter(first, -1, timeZone), to: midnightAfter(last, 0, timeZone) };
}

/** The midnight that ends a calendar day plus some days. */
function midnightAfter(day: string, days: number, timeZone: string): Date {
  // Noon in UTC falls on the same calendar day wherever the dollar is the currency: from eleven
  // hours behind UTC to ten ahead of it.
  return endOfLocalDay(new Date(`${day}T12:00:00Z`), days, timeZone);
}
