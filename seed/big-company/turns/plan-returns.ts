import { localDay } from '../../../src/company/index.ts';
import { plusDays } from '../../../src/platform/calendar-day.ts';
import type { Slot } from '../calendar.ts';
import type { Pen } from '../pen.ts';
import type { Place } from '../place.ts';
import { randomFor } from '../random.ts';
import type { Returns } from './returns.ts';

/** Says when a place calls again for what was mended there just now, if it does. */
export function planReturns(
  pen: Pen,
  { index, slot, place, at }: { index: number; slot: Slot; place: Place; at: number },
  returns: Returns,
): void {
  const random = randomFor(pen.plan.seed, 'return', index);
  const mended = place.systems
    .flatMap(({ row }) => pen.history.of(row.id))
    .find(({ arrivedAt }) => arrivedAt.getTime() > slot.call.getTime());
  if (mended === undefined) return;
  const draw = random.between(0, 1);
  if (draw < LAST_DAY_SHARE) returns.add(mended.laborWarrantyUntil, at, 'recall');
  else if (draw < LAST_DAY_SHARE + FAILED_SHARE) {
    const day = localDay(mended.arrivedAt, pen.plan.company.timeZone);
    returns.add(plusDays(day, random.int(130, 330)), at, 'failed_again');
  }
}

const LAST_DAY_SHARE = 0.03;
const FAILED_SHARE = 0.03;
