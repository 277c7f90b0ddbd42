import { type CircuitState, type StateClass, stateClass } from '../facts/circuit-state.ts';
import { type Measured, show, showValue } from '../facts/measured.ts';
import { conditionOfReadings } from './condition-of-readings.ts';
import type { Condition } from './weigh-together.ts';
import { withMeasurement } from './with-measurement.ts';

/**
 * That a state of the circuit surely lies in one of these classes. It fails where it surely lies in
 * one that denies them; in any other class, or where the method cannot tell, it is unknown.
 */
export function whenState(
  state: CircuitState,
  shown: readonly StateClass[],
  denied: readonly StateClass[],
): Condition {
  const { settled, what } = state;
  if (settled.kind === 'none') return conditionOfReadings('unknown', `Measure the ${what}.`, []);
  if (settled.kind !== 'settled') {
    const { why, readingIds, kind } = settled;
    return conditionOfReadings('unknown', why, readingIds, kind === 'disagree');
  }
  const { measured } = settled;
  const condition = conditionOfReadings(
    stateIn(stateClass(state), shown, denied),
    sentence(measured, state),
    measured.readingIds,
  );
  return withMeasurement(condition, state);
}

function stateIn(
  found: StateClass | undefined,
  shown: readonly StateClass[],
  denied: readonly StateClass[],
): Condition['state'] {
  if (found === undefined) return 'unknown';
  if (shown.includes(found)) return 'holds';
  return denied.includes(found) ? 'fails' : 'unknown';
}

/** "31.2 F measured by gauge and thermometer, superheat; usual is 4.0 F to 25.0 F; good to 1.4 F." */
function sentence(measured: Measured, { what, band, without }: CircuitState): string {
  const { unit, uncertainty } = measured;
  const usual =
    band === undefined
      ? (without ?? 'nobody can say what is usual')
      : `usual is ${showValue(band.lowDegF, unit)} to ${showValue(band.highDegF, unit)}; this method is good to ${showValue(uncertainty, unit)}`;
  return `${show(measured)}, ${what}; ${usual}.`;
}
