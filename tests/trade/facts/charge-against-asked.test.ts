import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { chargeAgainstAskedOf } from '../../../src/trade/facts/charge-against-asked.ts';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import { circuitPlate, lineSetFt, ounces } from '../circuit-readings.ts';
import { makeEvidence, outdoorUnit, type Sign } from '../make-evidence.ts';

function of(signs: Sign[], plate = {}): Settled {
  return chargeAgainstAskedOf(admitEvidence(outdoorUnit(signs, { ...circuitPlate, ...plate })));
}

// 104 oz and 0.6 oz for each foot of 35 beyond 15: 116 oz. The scale is good to 0.5 % and 0.2 oz,
// the tape to 1 % and half a foot: 80 oz is 68.966 %, good to hypot(0.6/116, 0.68966*0.51/116).
test('a weighed charge is held against nameplate and line set, scale and tape with their doubts', () => {
  const settled = of([ounces(80), lineSetFt(35)]);
  expect(settled.kind === 'settled' && settled.measured.value).toBeCloseTo(68.9655, 3);
  expect(settled.kind === 'settled' && settled.measured.uncertainty).toBeCloseTo(0.5997, 3);
});

test.each<[string, Settled, string]>([
  ['nothing weighed', of([lineSetFt(35)]), ''],
  [
    'no factory charge',
    of([ounces(80), lineSetFt(35)], { factoryChargeOz: undefined }),
    'Record the factory charge from the nameplate.',
  ],
  [
    'no adder',
    of([ounces(80), lineSetFt(35)], { lineSetOzPerFt: undefined }),
    'Record what the manual adds for each foot of line set, and the length it includes.',
  ],
  ['no length', of([ounces(80)]), 'Measure the length of the line set.'],
])('no figure is made up: %s', (_name, settled, why) => {
  expect(settled.kind).not.toBe('settled');
  expect(settled.kind === 'unusable' ? settled.why : '').toBe(why);
});

test('a package unit has no line set to add for', () => {
  const plate = { ...circuitPlate, factoryChargeOz: 100 };
  const evidence = makeEvidence('package_unit', plate, [ounces(80)]);
  const settled = chargeAgainstAskedOf(admitEvidence(evidence));
  expect(settled.kind === 'settled' && settled.measured.value).toBeCloseTo(80, 9);
});
