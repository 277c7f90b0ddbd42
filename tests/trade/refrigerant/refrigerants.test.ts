import fc from 'fast-check';
import { expect, test } from 'vitest';
import { knownRefrigerant } from '../../../src/trade/refrigerant/known-refrigerant.ts';
import {
  refrigerantCodeSchema,
  refrigerants,
} from '../../../src/trade/refrigerant/refrigerants.ts';
import {
  bubblePressurePsig,
  bubbleTemperatureDegF,
  dewTemperatureDegF,
} from '../../../src/trade/refrigerant/saturation.ts';

const codes = refrigerantCodeSchema.options;

test.each([
  ['R22', 'R-22'],
  ['R-22', 'R-22'],
  ['HCFC-22', 'R-22'],
  ['r410a', 'R-410A'],
  ['R 410 A', 'R-410A'],
  ['410A', 'R-410A'],
  ['R\u2011410A', 'R-410A'],
  ['HFC-410A', 'R-410A'],
  ['r-134A', 'R-134a'],
  ['134a', 'R-134a'],
  ['R407C', 'R-407C'],
  [' R-32\n', 'R-32'],
  ['r454b', 'R-454B'],
])('a plate that says %j is %s', (written, code) => {
  expect(knownRefrigerant(written)).toBe(code);
});

test.each([
  '',
  '22',
  '32',
  'R-12',
  'R-404A',
  'R-410B',
  'R-4.10A',
  '410',
  'constructor',
  'R-22/R-32',
])('a plate that says %j is no refrigerant we know', (written) => {
  expect(knownRefrigerant(written)).toBeUndefined();
});

test('every code is known however its letters and spaces are written', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...codes),
      fc.constantFrom('', ' ', '-', '\u2013'),
      fc.boolean(),
      (code, between, isLower) => {
        const written = code.replace('-', between);
        expect(knownRefrigerant(isLower ? written.toLowerCase() : written)).toBe(code);
      },
    ),
  );
});

// ASHRAE Standard 34, from memory: of these six only R-32 and R-454B burn at all.
test('the refrigerants that can burn are R-32 and R-454B', () => {
  expect(codes.filter((code) => refrigerants[code].safetyGroup === 'A2L')).toEqual([
    'R-32',
    'R-454B',
  ]);
});

test('the glide said of a refrigerant is the one its own saturation shows', () => {
  for (const code of codes) {
    const glides = [0, 40, 110, 130].map((degF) => {
      const psig = bubblePressurePsig(code, degF) ?? Number.NaN;
      return (
        (dewTemperatureDegF(code, psig) ?? Number.NaN) -
        (bubbleTemperatureDegF(code, psig) ?? Number.NaN)
      );
    });
    const [least, most] = [Math.min(...glides), Math.max(...glides)];
    const { glide, makeup } = refrigerants[code];
    expect(glide === 'none' ? most === 0 : true, code).toBe(true);
    expect(glide === 'slight' ? least > 0 && most < 0.5 : true, code).toBe(true);
    expect(glide === 'marked' ? least > 2 : true, code).toBe(true);
    expect(makeup === 'single', code).toBe(most === 0);
  }
});
