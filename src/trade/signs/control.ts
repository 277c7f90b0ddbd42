import { secondaryAmps } from '../electrical/transformer.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { controlVoltsClass } from '../facts/control-volts-class.ts';
import { floatSwitchPasses } from '../facts/float-switch-passes.ts';
import { highPressureSwitchPasses } from '../facts/high-pressure-switch.ts';
import { measuredAt, type Settled } from '../facts/measured.ts';
import { type SensorPoint, sensorDeviation } from '../facts/sensor-deviation.ts';
import { lineVoltsMin } from '../facts/supply-volts.ts';
import { controlCableOhmsMin } from '../faults/control/control-cable.ts';
import { transformerPrimaryVoltsMin } from '../faults/control/failed-transformer.ts';
import { sensorPercent } from '../faults/control/sensor-percent.ts';
import { thermostatBatteryVolts } from '../faults/control/thermostat-battery.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { PointCode } from '../words/points.ts';
import type { controlSigns } from '../words/signs/control.ts';
import type { SignReader } from './sign-reader.ts';

/** The 24 V side, put into classes. */
export const controlSignReaders = {
  control_volts: (facts) => controlVoltsClass(facts, 'control_supply'),
  transformer_primary_volts: (facts) => lineClass(facts, 'transformer_primary'),
  transformer_secondary_volts: (facts) => controlVoltsClass(facts, 'transformer_secondary'),
  transformer_load: transformerLoadClass,
  thermostat_supply_volts: (facts) => deadOrFed(facts, 'thermostat_supply'),
  thermostat_call_volts: (facts) => deadOrFed(facts, 'thermostat_cooling_out'),
  thermostat_battery_volts: batteryClass,
  board_call_volts: (facts) => deadOrFed(facts, 'board_cooling_call'),
  board_fan_call_volts: (facts) => deadOrFed(facts, 'board_fan_call'),
  outdoor_call_volts: (facts) => deadOrFed(facts, 'outdoor_cooling_call'),
  outdoor_board_volts: (facts) => deadOrFed(facts, 'outdoor_board_out'),
  float_switch_passes: floatSwitchPasses,
  high_pressure_switch_passes: highPressureSwitchPasses,
  control_cable_ohms: (facts) =>
    split(
      measuredAt(facts, 'control_cable', 'resistance'),
      { limit: controlCableOhmsMin, below: 'short' },
      { limit: controlCableOhmsMin, above: 'fine' },
    ),
  condensate_pump_volts: (facts) => lineClass(facts, 'condensate_pump_supply'),
  coil_sensor: (facts) => sensorClass(facts, 'coil_sensor'),
  air_sensor: (facts) => sensorClass(facts, 'air_sensor'),
  reversing_valve_coil: (facts) => deadOrFed(facts, 'reversing_valve_coil'),
} satisfies { [Code in keyof typeof controlSigns]: SignReader<Code> };

/** A call that is neither dead nor whole is put in neither class. */
function deadOrFed(facts: Facts, point: PointCode): 'none' | 'fine' | undefined {
  const volts = controlVoltsClass(facts, point);
  return volts === 'low' ? undefined : volts;
}

/** What is made for 120 V or more. */
function lineClass(
  facts: Facts,
  point: 'transformer_primary' | 'condensate_pump_supply',
): 'none' | 'fine' | undefined {
  return split(
    measuredAt(facts, point, 'voltage'),
    { limit: lineVoltsMin, below: 'none' },
    { limit: transformerPrimaryVoltsMin, above: 'fine' },
  );
}

function transformerLoadClass(facts: Facts): 'over' | 'fine' | undefined {
  const { transformerVa } = facts.equipment.nameplate;
  if (transformerVa === undefined) return undefined;
  const limit = secondaryAmps(transformerVa);
  return split(
    measuredAt(facts, 'transformer_secondary', 'current'),
    { limit, below: 'fine' },
    { limit, above: 'over' },
  );
}

function batteryClass(facts: Facts): 'low' | 'fine' | undefined {
  return split(
    measuredAt(facts, 'thermostat_battery', 'voltage'),
    { limit: thermostatBatteryVolts.flatBelow, below: 'low' },
    { limit: thermostatBatteryVolts.freshAbove, above: 'fine' },
  );
}

function sensorClass(facts: Facts, point: SensorPoint): 'off' | 'fine' | undefined {
  return split(
    sensorDeviation(facts, point),
    { limit: sensorPercent.allowed, below: 'fine' },
    { limit: sensorPercent.allowed, above: 'off' },
  );
}

/** One class surely below a limit, another surely above one; none in between. */
function split<Low extends string, High extends string>(
  settled: Settled,
  low: { limit: number; below: Low },
  high: { limit: number; above: High },
): Low | High | undefined {
  if (settled.kind !== 'settled') return undefined;
  if (compareWithLimit(settled.measured, low.limit) === 'below') return low.below;
  return compareWithLimit(settled.measured, high.limit) === 'above' ? high.above : undefined;
}
