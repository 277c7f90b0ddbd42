import type { CircuitState } from '../facts/circuit-state.ts';
import type { Condition } from './weigh-together.ts';
import { whenMeasured } from './when-measured.ts';
import { withMeasurement } from './with-measurement.ts';

/** That a state of the circuit is surely not low (or not high), be it usual or beyond. */
export function whenStateNot(state: CircuitState, denied: 'low' | 'high'): Condition {
  const { settled, what, band, isInverted = false } = state;
  const figureDenied = isInverted ? opposite[denied] : denied;
  const condition =
    figureDenied === 'low'
      ? whenMeasured(settled, what, 'above', band?.lowDegF)
      : whenMeasured(settled, what, 'below', band?.highDegF);
  return withMeasurement(condition, state);
}

const opposite = { low: 'high', high: 'low' } as const;
