import type { SignWords } from './sign.ts';

/** The 24 V side. */
export const controlSigns = {
  control_volts: {
    on: 'indoor',
    needs: ['control_supply.voltage'],
    usually: { none: 0.03, low: 0.02, fine: 0.95 },
  },
  transformer_primary_volts: {
    on: 'indoor',
    needs: ['transformer_primary.voltage'],
    usually: { none: 0.02, fine: 0.98 },
  },
  transformer_secondary_volts: {
    on: 'indoor',
    needs: ['transformer_secondary.voltage'],
    usually: { none: 0.02, low: 0.02, fine: 0.96 },
  },
  transformer_load: {
    on: 'indoor',
    needs: ['transformer_secondary.current'],
    usually: { over: 0.02, fine: 0.98 },
  },
  thermostat_supply_volts: {
    on: 'indoor',
    needs: ['thermostat_supply.voltage'],
    usually: { none: 0.05, fine: 0.95 },
  },
  thermostat_call_volts: {
    on: 'indoor',
    needs: ['thermostat_cooling_out.voltage'],
    usually: { none: 0.06, fine: 0.94 },
  },
  thermostat_battery_volts: {
    on: 'indoor',
    needs: ['thermostat_battery.voltage'],
    usually: { low: 0.05, fine: 0.95 },
  },
  board_call_volts: {
    on: 'indoor',
    needs: ['board_cooling_call.voltage'],
    usually: { none: 0.06, fine: 0.94 },
  },
  board_fan_call_volts: {
    on: 'indoor',
    needs: ['board_fan_call.voltage'],
    usually: { none: 0.05, fine: 0.95 },
  },
  outdoor_call_volts: {
    on: 'outdoor',
    needs: ['outdoor_cooling_call.voltage'],
    usually: { none: 0.08, fine: 0.92 },
  },
  outdoor_board_volts: {
    on: 'outdoor',
    needs: ['outdoor_board_out.voltage'],
    usually: { none: 0.08, fine: 0.92 },
  },
  float_switch_passes: {
    on: 'indoor',
    needs: ['float_switch_in.voltage', 'float_switch_out.voltage'],
    usually: { no: 0.02, yes: 0.98 },
  },
  high_pressure_switch_passes: {
    on: 'outdoor',
    needs: ['high_pressure_switch.voltage'],
    usually: { no: 0.02, yes: 0.98 },
  },
  control_cable_ohms: {
    on: 'outdoor',
    needs: ['control_cable.resistance'],
    usually: { short: 0.01, fine: 0.99 },
  },
  condensate_pump_volts: {
    on: 'indoor',
    needs: ['condensate_pump_supply.voltage'],
    usually: { none: 0.01, fine: 0.99 },
  },
  coil_sensor: {
    on: 'any',
    needs: ['coil_sensor.resistance', 'coil_sensor.temperature'],
    usually: { off: 0.01, fine: 0.99 },
  },
  air_sensor: {
    on: 'any',
    needs: ['air_sensor.resistance', 'air_sensor.temperature'],
    usually: { off: 0.01, fine: 0.99 },
  },
  reversing_valve_coil: {
    on: 'outdoor',
    needs: ['reversing_valve_coil.voltage'],
    usually: { none: 0.05, fine: 0.95 },
  },
} as const satisfies Record<string, SignWords>;
