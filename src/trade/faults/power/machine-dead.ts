import { nothingRunsOutdoors } from '../expectations.ts';
import type { Expectations } from '../fault.ts';

/**
 * One machine has no line voltage: mostly the outdoor one, some one time in five the indoor one,
 * which takes the control circuit with it. Shares: common practice, no source.
 */
export const machineDead = {
  ...nothingRunsOutdoors,
  line_volts: { none: 0.97 },
  contactor_by_hand_both_start: 0.12,
  contactor_pulled_in: 0.72,
  contactor_coil_volts: { none: 0.25 },
  outdoor_call_volts: { none: 0.22 },
  indoor_fan_running: 0.75,
  blower_volts: { none: 0.2 },
  blower_amps: { none: 0.2 },
  thermostat_screen_blank: 0.1,
  thermostat_calling_cooling: 0.85,
  thermostat_supply_volts: { none: 0.2 },
  control_volts: { none: 0.2 },
  transformer_primary_volts: { none: 0.2 },
  transformer_secondary_volts: { none: 0.2 },
} as const satisfies Expectations;
