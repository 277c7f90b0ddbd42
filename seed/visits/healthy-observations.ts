import type { Seen } from './visit-sheet.ts';

/** What is seen where nothing is wrong, in groups that a machine has or does not have. */
export const healthyHouse = {
  thermostat_screen_blank: 'no',
  thermostat_set_wrong: 'no',
  thermostat_starts_when_set: 'yes',
  thermostat_jumper_starts_cooling: 'yes',
  thermostat_calling_cooling: 'yes',
  indoor_fan_running: 'yes',
  registers_closed: 'no',
  duct_blocked_or_loose: 'no',
  blows_warm_in_cooling: 'no',
} as const satisfies Seen;

export const healthyPower = {
  breaker_found_tripped: 'no',
  breaker_trips_again: 'no',
  breaker_holds_under_load: 'yes',
  breaker_hot_or_buzzing: 'no',
  disconnect_found_open: 'no',
  line_connection_burnt: 'no',
} as const satisfies Seen;

export const healthyBoard = {
  control_fuse_reads_open: 'no',
  control_fuse_seen_blown: 'no',
  board_burnt: 'no',
  controller_reports_sensor_fault: 'no',
} as const satisfies Seen;

export const healthyBlower = {
  filter_dirty: 'no',
  blower_wheel_turns_freely: 'yes',
  blower_wheel_dirty: 'no',
  blower_hums: 'no',
  blower_called_and_fed: 'yes',
  blower_winding_reads_open: 'no',
} as const satisfies Seen;

export const healthyIndoorCoil = {
  drain_pan_full: 'no',
  drain_pan_dry: 'no',
  drain_pan_cracked: 'no',
  drain_flows_when_tested: 'yes',
  drain_blockage_drawn_out: 'no',
  indoor_coil_dirty: 'no',
  ice_on_coil_or_line: 'no',
  ice_melted_before_measuring: 'yes',
  metering_device_frosted: 'no',
} as const satisfies Seen;

export const healthyFloat = {
  float_switch_raised: 'no',
  float_switch_moves_freely: 'yes',
} as const satisfies Seen;

export const healthyValve = {
  sensing_bulb_loose: 'no',
  superheat_follows_bulb: 'yes',
} as const satisfies Seen;

/** Single-phase, with contactor and run capacitor. */
export const healthyOutdoorMotors = {
  outdoor_fan_running: 'yes',
  outdoor_fan_hums: 'no',
  compressor_running: 'yes',
  compressor_hums: 'no',
  compressor_stops_on_overload: 'no',
  contactor_pulled_in: 'yes',
  contactor_by_hand_both_start: 'yes',
  contactor_contacts_pitted: 'no',
  contactor_coil_reads_open: 'no',
  contactor_stays_closed_without_call: 'no',
  capacitor_herm_bulged_or_leaking: 'no',
  capacitor_fan_bulged_or_leaking: 'no',
  compressor_common_reads_open: 'no',
  compressor_run_to_start_reads_open: 'no',
  compressor_to_ground_reads_open: 'yes',
  compressor_cooled_down: 'yes',
  compressor_starts_with_test_start_device: 'yes',
  outdoor_fan_turns_freely: 'yes',
  outdoor_fan_winding_reads_open: 'no',
} as const satisfies Seen;

export const healthyCircuit = {
  outdoor_coil_dirty: 'no',
  outdoor_coil_cleared_pressure_fell: 'no',
  control_wire_damaged: 'no',
  refrigerant_oil_seen: 'no',
  leak_detector_alarms: 'no',
  bubbles_at_leak: 'no',
  refrigerant_leak_looked_for: 'yes',
  pressures_hunt: 'no',
  wrong_refrigerant_marked: 'no',
} as const satisfies Seen;
