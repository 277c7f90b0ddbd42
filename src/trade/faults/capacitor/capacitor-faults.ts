import type { Fault } from '../fault.ts';
import { failedStartDevice } from './failed-start-device.ts';
import { hardStartingCompressor } from './hard-starting-compressor.ts';
import { runCapacitorBlower } from './run-capacitor-blower.ts';
import { runCapacitorFan } from './run-capacitor-fan.ts';
import { runCapacitorHerm } from './run-capacitor-herm.ts';

export const capacitorFaults = {
  run_capacitor_herm: runCapacitorHerm,
  run_capacitor_fan: runCapacitorFan,
  run_capacitor_blower: runCapacitorBlower,
  failed_start_device: failedStartDevice,
  hard_starting_compressor: hardStartingCompressor,
} as const satisfies Record<string, Fault>;
