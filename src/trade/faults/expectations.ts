import type { Expectations, Scene } from './fault.ts';

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

/** The outdoor unit is called and fed, but something starves its motors when they start. */
export const starvedOutdoors = {
  thermostat_calling_cooling: 0.98,
  indoor_fan_running: 0.97,
  contactor_pulled_in: 0.96,
  contactor_coil_volts: { fine: 0.96 },
  outdoor_call_volts: { fine: 0.97 },
  compressor_running: 0.15,
  compressor_hums: 0.55,
  compressor_stops_on_overload: 0.55,
  compressor_amps: { none: 0.3, normal: 0.25, high: 0.25, locked: 0.2 },
  outdoor_fan_running: 0.7,
  outdoor_fan_hums: 0.12,
  contactor_by_hand_both_start: 0.15,
  split: { low: 0.95 },
} as const satisfies Expectations;

/** A float switch that is open breaks the call on its way out, or all that feeds the thermostat. */
export const openFloatScenes: readonly Scene[] = [
  {
    share: 0.65,
    expects: {
      ...noCallOutdoors,
      thermostat_calling_cooling: 0.98,
      thermostat_screen_blank: 0.01,
      thermostat_supply_volts: { fine: 0.98 },
      thermostat_call_volts: { fine: 0.9 },
      indoor_fan_running: 0.93,
      control_volts: { fine: 0.98 },
    },
  },
  {
    share: 0.35,
    expects: {
      ...noControlPower,
      control_volts: { none: 0.3, fine: 0.68 },
      transformer_primary_volts: { fine: 0.99 },
      transformer_secondary_volts: { fine: 0.98 },
      control_fuse_reads_open: 0.01,
    },
  },
];

/**
 * A machine without line voltage: mostly the outdoor one; the indoor one takes the control circuit
 * with it.
 */
export const deadMachineScenes: readonly Scene[] = [
  {
    share: 0.8,
    on: 'outdoor',
    expects: {
      ...nothingRunsOutdoors,
      line_volts: { none: 0.97 },
      thermostat_calling_cooling: 0.97,
      indoor_fan_running: 0.95,
      contactor_pulled_in: 0.93,
      contactor_coil_volts: { fine: 0.94 },
      outdoor_call_volts: { fine: 0.95 },
      contactor_by_hand_both_start: 0.03,
    },
  },
  {
    share: 0.2,
    on: 'indoor',
    expects: {
      ...noControlPower,
      line_volts: { none: 0.97 },
      transformer_primary_volts: { none: 0.96 },
      transformer_secondary_volts: { none: 0.96 },
      blower_volts: { none: 0.97 },
    },
  },
];
