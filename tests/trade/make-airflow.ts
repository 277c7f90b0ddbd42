import { atMinute } from './make-circuit.ts';
import type { Sign } from './make-evidence.ts';

/** Airflow in CFM by flow hood, which is good to 3 % and 7 CFM. */
export function cfm(value: number, minute = 0): Sign {
  return {
    reading: {
      equipmentId: 'unit-1',
      source: 'measured',
      phase: 'found',
      takenAt: atMinute(minute),
      point: 'supply_air',
      quantity: 'airflow',
      value,
      unit: '[cft_i]/min',
      method: 'flow_hood',
    },
  };
}
