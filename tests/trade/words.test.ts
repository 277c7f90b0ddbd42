import { expect, test } from 'vitest';
import {
  faultCatalog,
  gaugeUnitSchema,
  observationCodeSchema,
  observationWords,
  quantitySchema,
  readUnit,
  unitOfQuantity,
  unitSchema,
  unitsOf,
  waysToWrite,
} from '../../src/trade/index.ts';

test('a homeowner is never asked to open a panel, touch a capacitor or push in a contactor', () => {
  const forAnyone = observationCodeSchema.options.filter(
    (code) => observationWords[code].by === 'anyone',
  );
  // What can be seen or heard from outside, or done at the thermostat, the filter slot and the
  // breaker panel's door.
  expect(forAnyone.sort()).toEqual([
    'blows_warm_in_cooling',
    'breaker_found_tripped',
    'breaker_trips_again',
    'drain_pan_full',
    'filter_dirty',
    'ice_on_coil_or_line',
    'indoor_fan_running',
    'outdoor_coil_dirty',
    'outdoor_coil_iced_in_heating',
    'outdoor_fan_hums',
    'outdoor_fan_running',
    'registers_closed',
    'thermostat_calling_cooling',
    'thermostat_low_battery_shown',
    'thermostat_screen_blank',
    'thermostat_set_wrong',
    'thermostat_starts_when_set',
  ]);
});

test('every quantity is kept in a unit of its own, dry and wet bulb alike in F; no unit is idle', () => {
  const units = quantitySchema.options.map((quantity) => unitOfQuantity[quantity]);
  const others = units.filter((unit) => unit !== '[degF]');
  expect(new Set(others).size).toBe(others.length);
  expect(units.length - others.length).toBe(2);
  expect([...new Set(units)].sort()).toEqual([...unitSchema.options].sort());
});

test('a gauge that shows a quantity is always understood: each has a way to write its unit', () => {
  for (const quantity of quantitySchema.options) {
    expect(unitsOf(quantity)[0]).toBe(unitOfQuantity[quantity]);
    for (const unit of unitsOf(quantity)) {
      const ways = waysToWrite(unit);
      expect(ways).toContain(unit);
      for (const written of ways) expect(readUnit(written)).toBe(unit);
    }
  }
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
  ['mV', 'mV'],
  ['\u00b0C', 'Cel'],
  ['psig', '[psi]'],
  ['in. w.c.', "[in_i'H2O]"],
  ['%', '%'],
])('a unit written %s is understood as %s', (written, unit) => {
  expect(readUnit(written)).toBe(unit);
});

test.each([
  ['Mfd', 'uF'],
  ['UF', 'uF'],
  ['in.w.c.', "[in_i'H2O]"],
  ['in H2O', "[in_i'H2O]"],
  ['" WC', "[in_i'H2O]"],
  ['\u2033 wc', "[in_i'H2O]"],
  ['deg F', '[degF]'],
  ['\u00b0 f', '[degF]'],
  ['c', 'Cel'],
  ['v', 'V'],
  ['MPa', 'MPa'],
  ['mpa', 'MPa'],
  ['GOhm', 'GOhm'],
  ['G\u03a9', 'GOhm'],
  ['pounds', '[lb_av]'],
  ['Psi G', '[psi]'],
  ['CFM.', '[cft_i]/min'],
  ['MOHM', 'MOhm'],
  ['M ohm', 'MOhm'],
  ['mv', 'mV'],
])('a unit written %s leaves no doubt and is understood as %s', (written, unit) => {
  expect(readUnit(written)).toBe(unit);
});

test('case, spaces and dots never turn one unit into another', () => {
  const ways = gaugeUnitSchema.options.flatMap((unit) =>
    waysToWrite(unit).map((written): [string, string] => [unit, written]),
  );
  for (const [unit, written] of ways) {
    for (const other of [written.toUpperCase(), written.toLowerCase(), ` ${written} . `]) {
      expect([unit, undefined], `${written} as ${other}`).toContain(readUnit(other));
    }
  }
});

test.each(['MV', 'MA', 'mOhm', 'mohm', 'm\u03a9', 'mF', '"', 'furlong', '', 'toString'])(
  'a unit written %j is none that a reading may have',
  (written) => {
    expect(readUnit(written)).toBeUndefined();
  },
);

test('an explanation says what a fault is in general and claims nothing about this house', () => {
  for (const { code, explanation } of faultCatalog) {
    expect(explanation, code).not.toMatch(/\b(yours?|we|was|were|had|has lost|set back)\b/i);
    expect(explanation, code).toMatch(/^[A-Z].*\.$/);
  }
});
