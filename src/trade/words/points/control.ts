import { controlVolts, lineVolts, type PointWords, range, windingOhms } from './point.ts';

const controlAmps = range(0, 20, 0.1, 4);
const sensorOhms = range(0, 1_000_000, 1_000, 100_000);
const sensorDegF = range(-40, 300, 20, 200);

/** The 24 V side: transformer, board, thermostat, safeties. Ranges: common practice, no source. */
export const controlPoints = {
  transformer_primary: {
    name: 'primary of the control transformer',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: lineVolts },
  },
  transformer_secondary: {
    name: 'secondary of the control transformer',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: controlVolts, current: controlAmps },
  },
  control_supply: {
    name: 'control supply at the board',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: controlVolts },
  },
  control_fuse: {
    name: 'control fuse on the board',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: controlVolts, resistance: range(0, 1_000, 0.01, 1) },
  },
  thermostat_supply: {
    name: 'supply at the thermostat, R to C',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  thermostat_cooling_out: {
    name: 'cooling call at the thermostat, Y to C',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  thermostat_battery: {
    name: 'batteries of the thermostat',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: range(0, 12, 1, 5) },
  },
  board_cooling_call: {
    name: 'cooling call at the indoor board, Y to C',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  board_fan_call: {
    name: 'fan call at the indoor board, G to C',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  outdoor_cooling_call: {
    name: 'cooling call at the outdoor unit, Y to C',
    on: 'outdoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  control_cable: {
    name: 'outdoor control cable, taken off at both ends, from wire to wire',
    on: 'any',
    scope: 'system',
    ranges: { resistance: range(0, 60_000_000, 1, 1_000_000) },
  },
  high_pressure_switch: {
    name: 'high-pressure switch, from end to end',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: controlVolts, resistance: range(0, 1_000, 0.01, 1) },
  },
  outdoor_board_out: {
    name: 'output of the outdoor board to the contactor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: controlVolts },
  },
  coil_sensor: {
    name: 'coil temperature sensor, unplugged',
    on: 'any',
    scope: 'machine',
    ranges: { resistance: sensorOhms, temperature: sensorDegF },
  },
  air_sensor: {
    name: 'air temperature sensor, unplugged',
    on: 'any',
    scope: 'machine',
    ranges: { resistance: sensorOhms, temperature: sensorDegF },
  },
  reversing_valve_coil: {
    name: 'coil of the reversing valve',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: controlVolts, resistance: windingOhms },
  },
  float_switch_in: {
    name: 'wire into the float switch',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  float_switch_out: {
    name: 'wire out of the float switch',
    on: 'indoor',
    scope: 'system',
    ranges: { voltage: controlVolts },
  },
  condensate_pump_supply: {
    name: 'supply of the condensate pump',
    on: 'indoor',
    scope: 'machine',
    ranges: { voltage: range(0, 300, 100, 250) },
  },
} as const satisfies Record<string, PointWords>;
