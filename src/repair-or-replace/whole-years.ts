import type { Day } from './facts.ts';

/**
 * Whole years of life, as birthdays are counted; undefined when the day is unknown or has not come.
 * Only completed years count, so that a fraction of one never speaks against a repair.
 * Worked: 2014-07-15 to 2026-07-14 -> 11, to 2026-07-15 -> 12.
 */
export function wholeYears(from: Day | undefined, today: Day): number | undefined {
  if (from === undefined || from > today) return undefined;
  const years = Number(today.slice(0, 4)) - Number(from.slice(0, 4));
  return today.slice(4) < from.slice(4) ? years - 1 : years;
}
