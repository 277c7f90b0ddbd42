import { type CircuitState, type StateClass, stateClass } from '../facts/circuit-state.ts';
import { type Measured, show, showValue } from '../facts/measured.ts';
import type { Condition } from './weigh-together.ts';

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
  const base = { readingIds: [], observationIds: [], readingsDisagree: false };
  if (settled.kind === 'none') return { ...base, state: 'unknown', says: `Measure the ${what}.` };
  if (settled.kind !== 'settled') {
    const { why, readingIds, kind } = settled;
    return {
      ...base,
      state: 'unknown',
      says: why,
      readingIds,
      readingsDisagree: kind === 'disagree',
    };
  }
  const found = stateClass(state);
  return {
    ...base,
    state:
      found === undefined
        ? 'unknown'
        : shown.includes(found)
          ? 'holds'
          : denied.includes(found)
            ? 'fails'
            : 'unknown',
    says: sentence(settled.measured, state),
    readingIds: settled.measured.readingIds,
  };
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
