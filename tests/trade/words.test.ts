import { expect, test } from 'vitest';
import {
  faultCatalog,
  observationCodeSchema,
  observationWords,
  quantitySchema,
  unitOfQuantity,
  unitSchema,
  writtenUnitSchema,
} from '../../src/trade/index.ts';

test('a homeowner is never asked to open a panel, touch a capacitor or push in a contactor', () => {
  const forAnyone = observationCodeSchema.options.filter(
    (code) => observationWords[code].by === 'anyone',
  );
  // What can be seen or heard from outside, or done at the thermostat and the breaker panel's door.
  expect(forAnyone.sort()).toEqual([
    'breaker_found_tripped',
    'breaker_trips_again',
    'drain_pan_full',
    'indoor_fan_running',
    'outdoor_fan_hums',
    'outdoor_fan_running',
    'thermostat_calling_cooling',
  ]);
});

test('every quantity has a unit of its own, and every unit its quantity', () => {
  const units = quantitySchema.options.map((quantity) => unitOfQuantity[quantity]);
  expect([...units].sort()).toEqual([...unitSchema.options].sort());
});

test.each([
  ['\u00b5F', 'uF'],
  ['\u03bcF', 'uF'],
  ['mfd', 'uF'],
  ['MFD', 'uF'],
  ['uF', 'uF'],
  ['\u00b0F', '[degF]'],
  ['F', '[degF]'],
  ['[degF]', '[degF]'],
  ['ohm', 'Ohm'],
  ['\u03a9', 'Ohm'],
  ['\u2126', 'Ohm'],
  ['Ohm', 'Ohm'],
  ['V', 'V'],
  ['A', 'A'],
])('a unit written %s is kept as %s', (written, unit) => {
  expect(writtenUnitSchema.parse(written)).toBe(unit);
});

test.each(['mV', 'C', '\u00b0C', 'kohm', 'nF', 'v', '', 'toString'])(
  'a unit written %j is none that a reading may have',
  (written) => {
    expect(writtenUnitSchema.safeParse(written).success).toBe(false);
  },
);

test('an explanation says what a fault is in general and claims nothing about this house', () => {
  for (const { code, explanation } of faultCatalog) {
    expect(explanation, code).not.toMatch(/\b(yours?|we|was|were|had|has lost|set back)\b/i);
    expect(explanation, code).toMatch(/^(A|An|Cooling) /);
  }
});
