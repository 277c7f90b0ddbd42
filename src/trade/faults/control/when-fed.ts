import { controlVoltsMin, deadVoltsMax } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { type PointCode, pointWords } from '../../words/points.ts';

/** That a 24 V wire is fed. */
export function whenFed(facts: Facts, point: PointCode): Condition {
  return whenMeasured(
    measuredAt(facts, point, 'voltage'),
    pointWords[point].name,
    'above',
    controlVoltsMin,
  );
}

/** That a 24 V wire is dead, but for the few volts a meter shows on an open wire. */
export function whenDead(facts: Facts, point: PointCode): Condition {
  return whenMeasured(
    measuredAt(facts, point, 'voltage'),
    pointWords[point].name,
    'below',
    deadVoltsMax,
  );
}
