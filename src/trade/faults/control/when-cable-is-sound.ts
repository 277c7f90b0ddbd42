import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { pointWords } from '../../words/points.ts';
import { controlCableOhmsMin } from './control-cable.ts';

/** That the outdoor control cable, taken off, is surely not shorted: by its ohms, or open (OL). */
export function whenCableIsSound(facts: Facts): Condition {
  const measured = whenMeasured(
    measuredAt(facts, 'control_cable', 'resistance'),
    pointWords.control_cable.name,
    'above',
    controlCableOhmsMin,
  );
  // A short that was measured is not talked away by a look.
  if (measured.readingIds.length > 0) return measured;
  return anyOf('Take the outdoor control cable off and measure it from wire to wire.', [
    whenObserved(facts, 'control_cable_reads_open'),
  ]);
}
