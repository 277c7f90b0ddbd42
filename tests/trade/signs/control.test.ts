import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { controlSignReaders } from '../../../src/trade/signs/control.ts';
import { amps, degF, makeEvidence, ohms, type Sign, volts } from '../make-evidence.ts';

const sensor = (point: 'coil_sensor' | 'air_sensor', resistance: number) => [
  ohms(point, resistance),
  degF(point, 77),
];
const twice = (point: 'control_supply', one: number, other: number) => [
  volts(point, one),
  volts(point, other, { takenAt: '2026-07-14T15:05:00Z' }),
];

// A multimeter of 1 % + 3 counts of 10 mV reads 20 V to 0.23 V; a fed wire has 20 V, a dead one 5 V.
const rows: [
  sign: keyof typeof controlSignReaders,
  says: string,
  signs: Sign[],
  expected: string | undefined,
][] = [
  ['control_volts', 'nothing measured', [], undefined],
  ['control_volts', '0.2 V', [volts('control_supply', 0.2)], 'none'],
  ['control_volts', '14 V', [volts('control_supply', 14)], 'low'],
  ['control_volts', '26 V', [volts('control_supply', 26)], 'fine'],
  ['control_volts', '20.1 V, too near to tell', [volts('control_supply', 20.1)], undefined],
  ['control_volts', '5.01 V, too near to tell', [volts('control_supply', 5.01)], undefined],
  ['control_volts', 'two that disagree', twice('control_supply', 26, 12), undefined],
  ['control_volts', 'fed, then switched off', twice('control_supply', 26, 0.1), 'none'],
  ['transformer_primary_volts', '0.3 V', [volts('transformer_primary', 0.3)], 'none'],
  ['transformer_primary_volts', '60 V', [volts('transformer_primary', 60)], undefined],
  ['transformer_primary_volts', '121 V', [volts('transformer_primary', 121)], 'fine'],
  ['transformer_secondary_volts', '0 V', [volts('transformer_secondary', 0)], 'none'],
  ['transformer_secondary_volts', '16 V', [volts('transformer_secondary', 16)], 'low'],
  ['transformer_secondary_volts', '27 V', [volts('transformer_secondary', 27)], 'fine'],
  ['transformer_load', '2.4 A of 1.67 A', [amps('transformer_secondary', 2.4)], 'over'],
  ['transformer_load', '1 A of 1.67 A', [amps('transformer_secondary', 1)], 'fine'],
  ['transformer_load', '1.7 A, too near', [amps('transformer_secondary', 1.7)], undefined],
  ['thermostat_supply_volts', '0.1 V', [volts('thermostat_supply', 0.1)], 'none'],
  ['thermostat_supply_volts', '25 V', [volts('thermostat_supply', 25)], 'fine'],
  ['thermostat_supply_volts', '12 V is neither', [volts('thermostat_supply', 12)], undefined],
  ['thermostat_call_volts', '0.1 V', [volts('thermostat_cooling_out', 0.1)], 'none'],
  ['thermostat_call_volts', '25 V', [volts('thermostat_cooling_out', 25)], 'fine'],
  ['thermostat_battery_volts', '1.7 V', [volts('thermostat_battery', 1.7)], 'low'],
  ['thermostat_battery_volts', '2.5 V is neither', [volts('thermostat_battery', 2.5)], undefined],
  ['thermostat_battery_volts', '3.1 V', [volts('thermostat_battery', 3.1)], 'fine'],
  ['board_call_volts', '0.1 V', [volts('board_cooling_call', 0.1)], 'none'],
  ['board_call_volts', '25 V', [volts('board_cooling_call', 25)], 'fine'],
  ['board_fan_call_volts', '0.1 V', [volts('board_fan_call', 0.1)], 'none'],
  ['board_fan_call_volts', '25 V', [volts('board_fan_call', 25)], 'fine'],
  ['outdoor_call_volts', '0.1 V', [volts('outdoor_cooling_call', 0.1)], 'none'],
  ['outdoor_call_volts', '25 V', [volts('outdoor_cooling_call', 25)], 'fine'],
  ['outdoor_board_volts', '0.1 V', [volts('outdoor_board_out', 0.1)], 'none'],
  ['outdoor_board_volts', '25 V', [volts('outdoor_board_out', 25)], 'fine'],
  ['float_switch_passes', '26 V after it', [volts('float_switch_out', 26)], 'yes'],
  [
    'float_switch_passes',
    '26 V before, none after',
    [volts('float_switch_in', 26), volts('float_switch_out', 0.1)],
    'no',
  ],
  [
    'float_switch_passes',
    'none before it',
    [volts('float_switch_in', 0.1), volts('float_switch_out', 0.1)],
    undefined,
  ],
  ['high_pressure_switch_passes', '25 V across it', [volts('high_pressure_switch', 25)], 'no'],
  [
    'high_pressure_switch_passes',
    '0 V across it with the call there',
    [volts('high_pressure_switch', 0), volts('outdoor_cooling_call', 25)],
    'yes',
  ],
  [
    'high_pressure_switch_passes',
    '0 V across it, no call measured',
    [volts('high_pressure_switch', 0)],
    undefined,
  ],
  ['control_cable_ohms', '0.4 ohm', [ohms('control_cable', 0.4)], 'short'],
  ['control_cable_ohms', '1.9 ohm, too near', [ohms('control_cable', 1.9)], undefined],
  ['control_cable_ohms', '2 megohm', [ohms('control_cable', 2_000_000)], 'fine'],
  ['condensate_pump_volts', '0 V', [volts('condensate_pump_supply', 0)], 'none'],
  ['condensate_pump_volts', '119 V', [volts('condensate_pump_supply', 119)], 'fine'],
  ['coil_sensor', '10,000 ohm at 77 F', sensor('coil_sensor', 10_000), 'fine'],
  ['coil_sensor', '8,000 ohm at 77 F', sensor('coil_sensor', 8_000), 'off'],
  ['coil_sensor', '10,900 ohm, too near', sensor('coil_sensor', 10_900), undefined],
  ['air_sensor', '10,000 ohm at 77 F', sensor('air_sensor', 10_000), 'fine'],
  ['air_sensor', '3,000 ohm at 77 F', sensor('air_sensor', 3_000), 'off'],
  ['reversing_valve_coil', '0.1 V', [volts('reversing_valve_coil', 0.1)], 'none'],
  ['reversing_valve_coil', '25 V', [volts('reversing_valve_coil', 25)], 'fine'],
];
test.each(rows)('%s, %s', (sign, _says, signs, expected) => {
  const plate = { transformerVa: 40, sensorOhmsAt77F: 10_000, sensorBetaK: 3950 };
  const facts = admitEvidence(makeEvidence('package_unit', plate, signs));
  expect(controlSignReaders[sign](facts)).toBe(expected);
});

test('every sign of the control side is told by some row', () => {
  const told = new Set(rows.filter((row) => row[3] !== undefined).map(([sign]) => sign));
  expect([...told].sort()).toEqual(Object.keys(controlSignReaders).sort());
});

test('without its rating or its table nothing is put in a class', () => {
  const signs = [amps('transformer_secondary', 2.4), ...sensor('coil_sensor', 3_000)];
  const facts = admitEvidence(makeEvidence('package_unit', {}, signs));
  expect(controlSignReaders.transformer_load(facts)).toBeUndefined();
  expect(controlSignReaders.coil_sensor(facts)).toBeUndefined();
});
