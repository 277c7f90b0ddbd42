import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { pointWords } from '../../words/points.ts';
import { whenDead } from './when-fed.ts';

/** A closed switch is a piece of wire; common practice, no source. */
const closedSwitchOhmsMax = 1;

/**
 * That the high-pressure switch is closed. Its voltage tells only while the call stands before it:
 * whoever asks this asks for the call beside it.
 */
export function whenHighPressureSwitchClosed(facts: Facts): Condition {
  return anyOf('Measure across the high-pressure switch.', [
    whenDead(facts, 'high_pressure_switch'),
    whenMeasured(
      measuredAt(facts, 'high_pressure_switch', 'resistance'),
      pointWords.high_pressure_switch.name,
      'below',
      closedSwitchOhmsMax,
    ),
    whenObserved(facts, 'high_pressure_switch_open', 'no'),
  ]);
}
