import type { Facts } from '../../facts/admit-evidence.ts';
import { lastLook } from '../../facts/last-look.ts';
import { measuredFrom, readingsAt } from '../../facts/measured.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenCommonClosed } from './winding-conditions.ts';

/** The overload of one that only stalled closes within minutes, that of a hot one within hours; common practice, no source. */
const openHoursMin = 2;

/** A crankcase heater draws some tenths of an ampere through the common lead; common practice, no source. */
const standingAmpsMax = 0.5;

/**
 * That common read open at every look for so long that any overload would have closed, and that the
 * compressor drew nothing in between: each try opens its overload anew.
 */
export function whenOpenForHours(facts: Facts): Condition {
  const open = whenObserved(facts, 'compressor_common_reads_open');
  const closed = whenCommonClosed(facts).filter(({ state }) => state === 'holds');
  if (closed.length > 0) {
    const readingIds = closed.flatMap((each) => each.readingIds);
    return {
      ...open,
      ...unknown,
      says: 'Common was read closed as well.',
      readingIds,
      readingsDisagree: true,
    };
  }
  const looks = looksInARow(facts);
  const [firstMs, lastMs] = [looks.at(0) ?? Number.NaN, looks.at(-1) ?? Number.NaN];
  if (lastDrewMs(facts) > firstMs) {
    return {
      ...open,
      ...unknown,
      says: 'It drew current since it read open, so its overload had closed.',
    };
  }
  return lastMs - firstMs >= openHoursMin * 3_600_000
    ? open
    : {
        ...open,
        ...unknown,
        says: `Leave it off and read common again ${openHoursMin} hours after the first time.`,
      };
}

const unknown = { state: 'unknown' } as const;

/** When common read open, look after look, since it last read closed. */
function looksInARow({ observations }: Facts): number[] {
  const looks = observations.filter(({ code }) => code === 'compressor_common_reads_open');
  const since = looks.findLastIndex(({ answer }) => answer === 'no') + 1;
  return looks.slice(since).map(({ at }) => Date.parse(at));
}

function lastDrewMs(facts: Facts): number {
  const drew = readingsAt(facts, 'compressor_common', 'current')
    .filter((each) => compareWithLimit(measuredFrom(each), standingAmpsMax) === 'above')
    .map(({ takenAt }) => Date.parse(takenAt));
  return Math.max(lastLook(facts, 'compressor_hums', 'yes'), ...drew);
}
