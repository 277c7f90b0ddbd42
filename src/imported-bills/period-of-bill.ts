import type { FairPeriod } from '../auditing/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { periodAtMoment, type SchedulePeriod } from '../pricebook/index.ts';
import { ratioOf } from '../pricing/index.ts';
import type { BillContent } from './contract.ts';
import { readClock } from './read-clock.ts';

/**
 * The row of our fee schedule for a bill: that of the hour at which somebody came, on our own clock;
 * where the bill does not say, regular hours, which are those of the lowest factor on labor.
 */
export function periodOfBill(
  { billedOn, content }: { billedOn: string; content: Pick<BillContent, 'arrived'> },
  periods: readonly SchedulePeriod[],
): FairPeriod {
  const minutes = content.arrived === null ? undefined : readClock(content.arrived);
  if (minutes !== undefined) {
    // Sunday is the seventh day of our weeks and stands at 0 here.
    const weekday = dateOfDay(billedOn).getUTCDay() || 7;
    return inPrice(periodAtMoment(periods, { weekday, minutes }));
  }
  const [first, ...others] = periods;
  if (first === undefined) throw new Error('a fee schedule has a row that covers the rest');
  const regular = others.reduce((low, each) => (isLower(each, low) ? each : low), first);
  const isOpen = others.some((each) => isLower(regular, each));
  return { ...inPrice(regular), ...(isOpen && { isAssumed: true }) };
}

function inPrice({ code, laborFactor, visitFeeCents }: SchedulePeriod): FairPeriod {
  return { code, laborFactor, visitFeeCents };
}

function isLower(one: SchedulePeriod, other: SchedulePeriod): boolean {
  const [a, b] = [ratioOf(one.laborFactor), ratioOf(other.laborFactor)];
  return a.numerator * b.denominator < b.numerator * a.denominator;
}
