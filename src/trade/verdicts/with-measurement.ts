import { type CircuitState, circuitFigures } from '../facts/circuit-state.ts';
import type { Condition } from './weigh-together.ts';

/**
 * A condition with the figure of the circuit it rests on, between the limits of what is usual. A
 * figure with a single limit stays a sentence: which of its sides is the sound one differs with the
 * fault.
 */
export function withMeasurement(
  condition: Condition,
  { what, settled, band }: CircuitState,
): Condition {
  if (settled.kind !== 'settled' || band === undefined) return condition;
  const { value, unit, uncertainty } = settled.measured;
  const { lowDegF: low, highDegF: high } = band;
  const label = circuitFigures[what];
  return { ...condition, measurement: { label, value, unit, uncertainty, low, high } };
}
