import { splitToleranceDegF } from '../../air/judge-temperature-split.ts';
import { nominalAirflowCfm } from '../../air/nominal-capacity.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { splitAgainstTargetOf } from '../../facts/air-state.ts';
import { airflowOf } from '../../facts/airflow.ts';
import { blowerStaticLimit, blowerStaticOf } from '../../facts/duct-pressure.ts';
import { plateOf } from '../../facts/plate-of.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenFilterPasses } from '../airflow/air-conditions.ts';

/**
 * That the airflow was verified: the filter lets the air pass, nothing else was seen that holds it
 * back, and the split is not above its target, the static pressure within its limit, or the air
 * measured as enough.
 */
export const whenAirflowVerified = remembered((facts): Condition => {
  const bad = seenBad(facts);
  if (bad !== undefined) return bad;
  const filter = whenFilterPasses(facts);
  const measured = airConditions(facts);
  const failing = measured.find(({ state }) => state === 'fails');
  if (failing !== undefined) return failing;
  const holding = measured.find(({ state }) => state === 'holds');
  if (filter.state === 'holds' && holding !== undefined) return joined('holds', filter, holding);
  const open = filter.state === 'holds' ? measured[0] : filter;
  return open ?? filter;
});

/** That nothing on record speaks against the airflow: enough for a hint, not for proof. */
export const whenAirflowNotBad = remembered((facts): Condition => {
  const verified = whenAirflowVerified(facts);
  return verified.state === 'unknown' ? { ...verified, state: 'holds' } : verified;
});

const whatHoldsAirBack = [
  'filter_dirty',
  'registers_closed',
  'duct_blocked_or_loose',
  'indoor_coil_dirty',
  'blower_wheel_dirty',
] as const;

function seenBad(facts: Facts): Condition | undefined {
  return [
    whenObserved(facts, 'indoor_fan_running'),
    ...whatHoldsAirBack.map((code) => whenObserved(facts, code, 'no')),
  ].find(({ state }) => state === 'fails');
}

function airConditions(facts: Facts): Condition[] {
  return [
    whenMeasured(
      splitAgainstTargetOf(facts),
      'air split less its target',
      'below',
      splitToleranceDegF,
    ),
    whenStaticWithin(facts),
    whenAirMeasuredEnough(facts),
  ];
}

/** Moving air takes more than this in any system; below it none moves. Common practice, no source. */
const movingInH2OMin = 0.05;

function whenStaticWithin(facts: Facts): Condition {
  const { limitInH2O, basis } = blowerStaticLimit(facts);
  const pressure = blowerStaticOf(facts);
  const what = 'external static pressure';
  const within = whenMeasured(pressure, what, 'below', limitInH2O);
  // Many sound systems lie above the usual figure; only the plate's own speaks against one.
  if (within.state === 'fails' && basis === 'usual') return { ...within, state: 'unknown' };
  const moves = whenMeasured(pressure, what, 'above', movingInH2OMin);
  if (within.state !== 'holds' || moves.state === 'holds') return within;
  return { ...moves, state: 'unknown', says: 'So little pressure says that no air moves.' };
}

/** By a hood or from a heating rise: at least the low end of what the tons ask for. */
function whenAirMeasuredEnough(facts: Facts): Condition {
  const tons = plateOf(facts, 'tons');
  const leastCfm = tons === undefined ? undefined : nominalAirflowCfm(tons).low;
  return whenMeasured(airflowOf(facts), 'air through the machine', 'above', leastCfm);
}

function joined(state: Condition['state'], a: Condition, b: Condition): Condition {
  return {
    state,
    says: `${a.says} ${b.says}`,
    readingIds: [...a.readingIds, ...b.readingIds],
    observationIds: [...a.observationIds, ...b.observationIds],
    readingsDisagree: a.readingsDisagree || b.readingsDisagree,
  };
}
