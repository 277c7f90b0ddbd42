import type { CheckCode } from '../../src/trade/index.ts';

/**
 * The order in which a sensible, experienced technician goes through a no-cooling call whatever he
 * finds: eyes and hands first, then the meter where most calls end, then what takes a panel off,
 * then the air, and the gauges last. The advice on what to check next is measured against it.
 */
export const fixedChecklist: readonly CheckCode[] = [
  // Eyes and hands, from the thermostat to the outdoor unit.
  'look_at_thermostat',
  'watch_indoor_unit',
  'set_thermostat_to_cool',
  'look_at_filter',
  'look_at_drain_pan',
  'look_for_ice',
  'look_at_breaker',
  'watch_outdoor_unit',
  'look_at_disconnect',
  'look_at_outdoor_coil',

  // The outdoor unit, where most calls end.
  'measure_contactor_coil',
  'measure_line_voltage',
  'spin_outdoor_fan',
  'look_into_outdoor_unit',
  'measure_capacitor',

  // The 24 V side.
  'measure_control_supply',
  'measure_float_switch',
  'pull_control_fuse',
  'measure_thermostat_wires',
  'follow_cooling_call',
  'test_drain',
  'test_condensate_pump',
  'measure_high_pressure_switch',
  'look_at_indoor_board',

  // Motors, running and standing.
  'measure_compressor_amps',
  'measure_contactor_poles',
  'measure_outdoor_fan',
  'measure_disconnect',
  'look_at_line_connections',
  'push_in_contactor',
  'measure_blower',
  'spin_blower',
  'measure_blower_capacitor',
  'test_disconnect_fuses',
  'measure_line_connections',
  'test_breaker_under_load',
  'measure_compressor_to_ground',
  'measure_compressor_windings',
  'measure_outdoor_fan_winding',
  'measure_capacitor_under_load',
  'measure_control_cable',
  'measure_contactor_coil_ohms',

  // The air.
  'measure_air_split',
  'look_at_registers',
  'measure_static_pressure',
  'look_at_indoor_coil',

  // The circuit.
  'read_gauges',
  'measure_filter_drier',
  'switch_reversing_valve',
  'measure_reversing_valve_lines',
  'search_for_leak',
  'clear_outdoor_coil_and_compare',
  'warm_sensing_bulb',

  // What is seldom worth its minutes.
  'measure_start_capacitor',
  'try_test_start_device',
  'test_blower_module',
  'measure_blower_winding',
  'measure_sensors',
  'measure_transformer_load',
  'look_at_ducts',
  'force_defrost',
  'let_compressor_cool',
  'weigh_charge',
];
