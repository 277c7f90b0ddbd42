import type { Fault } from '../fault.ts';
import { runCapacitorFan } from './run-capacitor-fan.ts';
import { runCapacitorHerm } from './run-capacitor-herm.ts';

export const capacitorFaults = {
  run_capacitor_herm: runCapacitorHerm,
  run_capacitor_fan: runCapacitorFan,
} as const satisfies Record<string, Fault>;
