import { controlVoltsMin, deadVoltsMax } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { type Minutes, measuredNear } from '../../facts/measured-near.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { type PointCode, pointWords } from '../../words/points.ts';

/** That a 24 V wire is fed; with `minutes`, that it was fed then. */
export function whenFed(facts: Facts, point: PointCode, minutes?: Minutes): Condition {
  return whenMeasured(
    minutes === undefined
      ? measuredAt(facts, point, 'voltage')
      : measuredNear(facts, point, 'voltage', minutes),
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
