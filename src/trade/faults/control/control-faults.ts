import type { Fault } from '../fault.ts';
import { brokenControlWire } from './broken-control-wire.ts';
import { controlShort } from './control-short.ts';
import { deadThermostatBatteries } from './dead-thermostat-batteries.ts';
import { failedIndoorBoard } from './failed-indoor-board.ts';
import { failedOutdoorBoard } from './failed-outdoor-board.ts';
import { failedSensor } from './failed-sensor.ts';
import { failedThermostat } from './failed-thermostat.ts';
import { failedTransformer } from './failed-transformer.ts';
import { openControlFuse } from './open-control-fuse.ts';
import { openHighPressureSwitch } from './open-high-pressure-switch.ts';
import { overloadedTransformer } from './overloaded-transformer.ts';
import { thermostatSetWrong } from './thermostat-set-wrong.ts';

export const controlFaults = {
  open_control_fuse: openControlFuse,
  thermostat_set_wrong: thermostatSetWrong,
  dead_thermostat_batteries: deadThermostatBatteries,
  failed_thermostat: failedThermostat,
  control_short: controlShort,
  broken_control_wire: brokenControlWire,
  failed_transformer: failedTransformer,
  overloaded_transformer: overloadedTransformer,
  failed_indoor_board: failedIndoorBoard,
  failed_outdoor_board: failedOutdoorBoard,
  open_high_pressure_switch: openHighPressureSwitch,
  failed_sensor: failedSensor,
} as const satisfies Record<string, Fault>;
