import { type Day, plusDays, weekdayOf } from './calendar.ts';
import type { CancelTerms } from './consumer-rule.ts';
import { federalHolidays } from './federal-holidays.ts';

/** A right to cancel as far as its days are counted. */
type CountedDays = Omit<CancelTerms, 'appliesFromCents' | 'source'>;

/**
 * The last day, until its midnight, on which a yes may be taken back: the rule's count of business
 * days after the day of the yes, which itself does not count. By 16 CFR 429.0(f), from memory, a
 * business day is any calendar day but Sunday and the federal holidays; a rule may say otherwise.
 */
export function lastDayToCancel(acceptedOn: Day, rule: CountedDays): Day {
  let day = acceptedOn;
  let counted = 0;
  while (counted < rule.days) {
    day = plusDays(day, 1);
    if (isBusinessDay(day, rule)) counted += 1;
  }
  return day;
}

function isBusinessDay(day: Day, rule: CountedDays): boolean {
  if (rule.closedWeekdays.includes(weekdayOf(day)) || rule.holidays.includes(day)) return false;
  return !rule.federalHolidays || !federalHolidays(Number(day.slice(0, 4))).includes(day);
}
