import type { Facts } from '../../facts/admit-evidence.ts';
import { type Measured, measuredAt, show } from '../../facts/measured.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { DrawnMeasurement, Weighed } from '../../verdicts/verdict.ts';
import type { Provided } from '../../verdicts/weigh-limit.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';

/**
 * Line voltage reaches the disconnect and none leaves it: something in it is open, provided that
 * nothing else explains it.
 */
export function weighPassage(facts: Facts, provided: readonly Provided[] = []): Weighed {
  return weighMeasurement(
    {
      id: 'nothing_leaves_it',
      statement: 'Line voltage reaches the disconnect and none reaches the unit.',
      direction: 'for',
      weight: 'indicative',
    },
    measuredAt(facts, 'line_supply', 'voltage'),
    (atUnit) => decidePassage(facts, atUnit, provided),
  );
}

function decidePassage(facts: Facts, atUnit: Measured, provided: readonly Provided[]): Decision {
  const side = compareWithLimit(atUnit, lineVoltsMin);
  const { value, unit, uncertainty } = atUnit;
  const measurement: DrawnMeasurement = {
    label: 'Line voltage',
    value,
    unit,
    uncertainty,
    low: lineVoltsMin,
  };
  if (side !== 'below') {
    const outcome = side === 'above' ? 'not_met' : 'undecided';
    return { outcome, detail: `${show(atUnit)} at the unit.`, measurement };
  }
  const before = measuredAt(facts, 'disconnect_line_side', 'voltage');
  if (before.kind !== 'settled') {
    const detail = `${show(atUnit)} at the unit; measure the line side of the disconnect.`;
    return { outcome: 'undecided', detail, measurement };
  }
  const missing = provided.find(({ holds }) => !holds);
  const fed = compareWithLimit(before.measured, lineVoltsMin);
  const outcomes = { above: 'met', below: 'not_met', within: 'undecided' } as const;
  const shown = `${show(before.measured)} before the disconnect, ${show(atUnit)} at the unit`;
  const isExplained = fed === 'above' && missing !== undefined;
  return {
    outcome: isExplained ? 'undecided' : outcomes[fed],
    detail: isExplained ? `${shown}; ${missing.otherwise}.` : `${shown}.`,
    measurement,
    readingIds: before.measured.readingIds,
    observationIds: provided.flatMap(({ observationIds = [] }) => observationIds),
  };
}
