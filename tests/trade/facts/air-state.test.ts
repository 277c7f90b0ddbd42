import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import {
  externalStaticOf,
  splitAgainstTargetOf,
  splitOf,
} from '../../../src/trade/facts/air-state.ts';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import type { PointCode, Reading } from '../../../src/trade/index.ts';
import { airHandler, type Sign } from '../make-evidence.ts';

function read(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  return {
    reading: {
      equipmentId: 'unit-1',
      quantity: 'temperature',
      point,
      value,
      unit: '[degF]',
      method: 'psychrometer',
      source: 'measured',
      phase: 'found',
      takenAt: '2026-07-14T15:00:00Z',
      ...more,
    },
  };
}

const later = { takenAt: '2026-07-14T15:16:00Z' };
const back = (degF: number) => read('return_air', degF);
const wetBulb = (degF: number, more: Partial<Reading> = {}) =>
  read('return_air', degF, { quantity: 'wet_bulb_temperature', ...more });
const supply = (degF: number, more: Partial<Reading> = {}) => read('supply_air', degF, more);
const facts = (...signs: Sign[]) => admitEvidence(airHandler(signs));

function figureOf(settled: Settled): [value: number, uncertainty: number] | string {
  if (settled.kind !== 'settled') return settled.kind;
  return [settled.measured.value, settled.measured.uncertainty];
}

// Each thermometer of the psychrometer is good to 1.0 F: together 1.41 F.
test('the split is what the air loses between return and supply', () => {
  const [value, uncertainty] = figureOf(splitOf(facts(back(75), supply(55))));
  expect(value).toBeCloseTo(20, 9);
  expect(uncertainty).toBeCloseTo(Math.SQRT2, 9);
});

// Target at 75/63 F: 18.6 F (California Title 24 appendix RA3.2, 2008). Off by 1 F each: the return
// moves the deviation by 1 - 0.56, the wet bulb by 0.775, the supply by 1, and the table by 0.6 more.
test('the split is held against what this return air should show, with every doubt', () => {
  const [value, uncertainty] = figureOf(
    splitAgainstTargetOf(facts(back(75), wetBulb(63), supply(61))),
  );
  expect(value).toBeCloseTo(14 - 18.6, 9);
  expect(uncertainty).toBeCloseTo(Math.hypot(0.44, 0.775, 1) + 0.6, 2);
});

describe('no deviation is made up', () => {
  test.each([
    ['nothing was read', [], 'none'],
    ['a wet bulb alone', [wetBulb(63)], 'none'],
    ['without the wet bulb', [back(75), supply(56)], 'unusable'],
    ['without the return', [wetBulb(63), supply(56)], 'unusable'],
    ['air hotter than any published point', [back(86), wetBulb(66), supply(66)], 'unusable'],
    [
      'supply a quarter hour and more after',
      [back(75), wetBulb(63), supply(56, later)],
      'unusable',
    ],
    ['wet bulb of another hour', [back(75), wetBulb(63, later), supply(56)], 'unusable'],
    [
      'two supplies worlds apart',
      [back(75), wetBulb(63), supply(56), supply(66, { takenAt: '2026-07-14T15:05:00Z' })],
      'disagree',
    ],
  ])('%s', (_name, signs, kind) => {
    expect(splitAgainstTargetOf(facts(...signs)).kind).toBe(kind);
  });
});

// A manometer of 1 % + 0.01: -0.22 is good to 0.0122, 0.31 to 0.0131, together 0.0179.
test('the external static pressure counts both sides of the blower', () => {
  const inches = { quantity: 'static_pressure', unit: "[in_i'H2O]", method: 'manometer' } as const;
  const before = read('return_static', -0.22, inches);
  const after = read('supply_static', 0.31, inches);
  const [value, uncertainty] = figureOf(externalStaticOf(facts(before, after)));
  expect(value).toBeCloseTo(0.53, 9);
  expect(uncertainty).toBeCloseTo(Math.hypot(0.0122, 0.0131), 9);
  expect(externalStaticOf(facts(after)).kind).toBe('unusable');
  expect(externalStaticOf(facts()).kind).toBe('none');
});
