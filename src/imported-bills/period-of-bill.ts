import type { FairPeriod, FairTerms } from '../auditing/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { periodAtMoment, type SchedulePeriod } from '../pricebook/index.ts';
import type { BillContent } from './contract.ts';
import { readClock } from './read-clock.ts';

/**
 * The row of our fee schedule for a bill: that of the hour at which somebody came, on our own clock.
 * Where the bill does not say, a fee that is just that of one row says it; and where it is not, all
 * rows that give another price, and it may have been any of them.
 */
export function periodOfBill(
  { billedOn, content }: { billedOn: string; content: Pick<BillContent, 'arrived' | 'feeCents'> },
  periods: readonly SchedulePeriod[],
): Pick<FairTerms, 'period' | 'orPeriods' | 'isByFee'> {
  const minutes = content.arrived === null ? undefined : readClock(content.arrived);
  if (minutes !== undefined) {
    // Sunday is the seventh day of our weeks and stands at 0 here.
    const weekday = dateOfDay(billedOn).getUTCDay() || 7;
    return { period: inPrice(periodAtMoment(periods, { weekday, minutes })) };
  }
  const byFee = periods.filter(({ visitFeeCents }) => visitFeeCents === content.feeCents);
  const [first, ...others] = byFee.length > 0 ? byFee : periods;
  if (first === undefined) throw new Error('a fee schedule has a row that covers the rest');
  const orPeriods = others.filter((each) => isOther(each, first)).map(inPrice);
  const isOne = orPeriods.length === 0;
  return {
    period: inPrice(first),
    ...(isOne
      ? byFee.length > 0 && byFee.length < periods.length && { isByFee: true }
      : { orPeriods }),
  };
}

function inPrice({ code, laborFactor, visitFeeCents }: SchedulePeriod): FairPeriod {
  return { code, laborFactor, visitFeeCents };
}

function isOther(one: SchedulePeriod, other: SchedulePeriod): boolean {
  return one.visitFeeCents !== other.visitFeeCents || one.laborFactor !== other.laborFactor;
}
