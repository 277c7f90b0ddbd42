import type { Expectations } from './fault.ts';

/** What several faults make likely alike. Shares: common practice, no source. */

/** Nothing turns outside, whatever keeps it. */
export const nothingRunsOutdoors = {
  outdoor_fan_running: 0.02,
  compressor_running: 0.02,
  compressor_hums: 0.01,
  compressor_amps: { none: 0.97 },
  outdoor_fan_amps: { none: 0.97 },
  outdoor_fan_volts: { none: 0.95 },
  split: { low: 0.98 },
} as const satisfies Expectations;

/** The call never reaches the outdoor unit: its contactor has no voltage and stays open. */
export const noCallOutdoors = {
  ...nothingRunsOutdoors,
  contactor_pulled_in: 0.02,
  contactor_coil_volts: { none: 0.96 },
  outdoor_call_volts: { none: 0.95 },
  contactor_by_hand_both_start: 0.95,
} as const satisfies Expectations;

/** The whole control circuit is dead, the thermostat with it unless it has batteries. */
export const noControlPower = {
  ...noCallOutdoors,
  control_volts: { none: 0.95 },
  thermostat_supply_volts: { none: 0.95 },
  thermostat_call_volts: { none: 0.95 },
  board_call_volts: { none: 0.95 },
  board_fan_call_volts: { none: 0.95 },
  thermostat_screen_blank: 0.5,
  thermostat_calling_cooling: 0.45,
  indoor_fan_running: 0.05,
  blower_amps: { none: 0.95 },
} as const satisfies Expectations;

/** Everything turns; only the cooling is poor. */
export const everythingRuns = {
  thermostat_calling_cooling: 0.98,
  indoor_fan_running: 0.98,
  outdoor_fan_running: 0.98,
  compressor_running: 0.96,
  contactor_pulled_in: 0.98,
  contactor_coil_volts: { fine: 0.98 },
  line_volts: { fine: 0.98 },
  compressor_amps: { none: 0.02 },
  outdoor_fan_amps: { fine: 0.95 },
} as const satisfies Expectations;
