import type { Fault } from '../fault.ts';
import { failedDefrostControl } from './failed-defrost-control.ts';
import { failedReversingValveCoil } from './failed-reversing-valve-coil.ts';
import { stuckReversingValve } from './stuck-reversing-valve.ts';

export const heatPumpFaults = {
  stuck_reversing_valve: stuckReversingValve,
  failed_reversing_valve_coil: failedReversingValveCoil,
  failed_defrost_control: failedDefrostControl,
} as const satisfies Record<string, Fault>;
