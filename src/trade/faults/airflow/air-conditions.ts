import { splitToleranceDegF } from '../../air/judge-temperature-split.ts';
import { nominalAirflowCfm } from '../../air/nominal-capacity.ts';
import { coilDropInH2O, filterDropInH2O } from '../../air/pressure-drops.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { splitAgainstTargetOf } from '../../facts/air-state.ts';
import { airflowOf } from '../../facts/airflow.ts';
import { pressureAcross } from '../../facts/duct-pressure.ts';
import { show } from '../../facts/measured.ts';
import { isObserved, observed } from '../../facts/observed.ts';
import { plateOf } from '../../facts/plate-of.ts';
import { remembered } from '../../facts/remembered-for.ts';
import { compareWithBand } from '../../uncertainty/compare-with-band.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/** That the filter lets the air pass: a clean but dense one may not, so a measured drop decides. */
export const whenFilterPasses = remembered((facts): Condition => {
  const drop = whenDropBelow(facts, 'filter_drop', filterDropInH2O.restricts);
  return drop.readingIds.length > 0 ? drop : whenObserved(facts, 'filter_dirty', 'no');
});

/** That the indoor coil lets the air pass: by its drop, else by its face. */
export const whenCoilPasses = remembered((facts): Condition => {
  const drop = whenDropBelow(facts, 'indoor_coil_drop', coilDropInH2O.restricts);
  return drop.readingIds.length > 0 ? drop : whenObserved(facts, 'indoor_coil_dirty', 'no');
});

/** Ice blocks a clean coil as dirt does. It fails once ice was seen; nobody must have looked. */
export function unlessIced(facts: Facts): Condition {
  const iced = isObserved(facts, 'ice_on_coil_or_line');
  return {
    state: iced ? 'fails' : 'holds',
    says: iced
      ? 'Ice on the coil blocks the air: thaw it and measure again.'
      : 'No ice is on record.',
    readingIds: [],
    observationIds: observed(facts, 'ice_on_coil_or_line')?.ids ?? [],
    readingsDisagree: false,
  };
}

/**
 * That enough air passes: measured in CFM at least the low end of what the tons ask for, else by a
 * split on its target. A split below the target says nothing of the air.
 */
export const whenEnoughAir = remembered((facts): Condition => {
  const airflow = airflowOf(facts);
  const tons = plateOf(facts, 'tons');
  if (airflow.kind === 'none') return whenSplitOnTarget(facts);
  const leastCfm = tons === undefined ? undefined : nominalAirflowCfm(tons).low;
  return whenMeasured(airflow, 'air through the machine', 'above', leastCfm);
});

function whenSplitOnTarget(facts: Facts): Condition {
  const settled = splitAgainstTargetOf(facts);
  const high = whenMeasured(settled, whatSplit, 'below', splitToleranceDegF);
  if (settled.kind !== 'settled' || high.state !== 'holds') return high;
  const band = { low: -splitToleranceDegF, high: splitToleranceDegF };
  if (compareWithBand(settled.measured, band) === 'inside') return high;
  const says = `${show(settled.measured)}, ${whatSplit}; so low a split says nothing of the air.`;
  return { ...high, state: 'unknown', says };
}

const whatSplit = 'air split less its target';

function whenDropBelow(
  facts: Facts,
  point: 'filter_drop' | 'indoor_coil_drop',
  limitInH2O: number,
): Condition {
  const names = { filter_drop: 'filter', indoor_coil_drop: 'indoor coil' } as const;
  const what = `pressure across the ${names[point]}`;
  return whenMeasured(pressureAcross(facts, point), what, 'below', limitInH2O);
}
