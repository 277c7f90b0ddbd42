import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { airflowOf } from '../../../src/trade/facts/airflow.ts';
import { ductShareOf } from '../../../src/trade/facts/duct-pressure.ts';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import type { Nameplate } from '../../../src/trade/index.ts';
import { cfm } from '../make-airflow.ts';
import { degF, inH2O } from '../make-circuit.ts';
import { airHandler, type Sign, saw } from '../make-evidence.ts';

const gas: Nameplate = { heatInputBtuh: 80_000, heatEfficiencyPercent: 80 };
const heating = (back: number, supply: number, minute = 0): Sign[] => [
  degF('heating_return_air', back),
  degF('heating_supply_air', supply, minute),
];

describe('air through the machine', () => {
  test('by flow hood it is what the hood shows', () => {
    const airflow = airflowIn([cfm(1200), ...heating(70, 110)], gas);
    expect(figures(airflow)).toEqual([1200, 43]);
  });

  // Published: 80,000 x 0.8 / (1.08 x 40) = 1,481. Doubt: a rise of 40 - 1.414 gives 1,535.7, so
  // 54.3 by the thermometers and 148.1 by the heat: 157.8 together.
  test('by the rise over a gas burner', () => {
    const [value, doubt] = figures(airflowIn(heating(70, 110), gas));
    expect(value).toBeCloseTo(1481.48, 2);
    expect(doubt).toBeCloseTo(157.8, 1);
  });

  // 10 kW x 3,412 / (1.08 x 25) = 1,263.7; at 5,000 ft the air is 0.8321 as dense: 1,518.7.
  test.each([
    [0, 1263.7],
    [5000, 1518.7],
  ])('by the rise over 10 kW of strips at %d ft', (altitudeFt, expected) => {
    const evidence = { ...airHandler(heating(70, 95), { heatKw: 10 }), altitudeFt };
    const [value] = figures(airflowOf(admitEvidence(evidence)));
    expect(value).toBeCloseTo(expected, 0);
  });

  test.each<[string, Sign[], Nameplate, Settled['kind']]>([
    ['nothing measured', [], gas, 'none'],
    ['only one thermometer', [degF('heating_supply_air', 110)], gas, 'unusable'],
    ['half an hour apart', heating(70, 110, 30), gas, 'unusable'],
    ['the plate says nothing of the heat', heating(70, 110), {}, 'unusable'],
    ['a rise no larger than its doubt', heating(70, 71), gas, 'unusable'],
    ['two hoods that disagree', [cfm(1200), cfm(700, 5)], gas, 'disagree'],
  ])('%s: no figure', (_name, signs, plate, kind) => {
    expect(airflowIn(signs, plate).kind).toBe(kind);
  });
});

describe('what the ducts alone take', () => {
  const whole = [inH2O('return_static', -0.45), inH2O('supply_static', 0.45)];
  const drops = [inH2O('filter_drop', 0.1), inH2O('indoor_coil_drop', 0.2)];

  // 0.90 - 0.10 - 0.20; each reading good to 1 % and 0.01: 0.0145, 0.0145, 0.011 and 0.012.
  test('is the whole less filter and coil, with the doubt of all four readings', () => {
    const [value, doubt] = figures(ducts([...whole, ...drops]));
    expect(value).toBeCloseTo(0.6, 12);
    expect(doubt).toBeCloseTo(0.02618, 5);
  });

  test.each<[string, Sign[], Settled['kind']]>([
    ['nothing measured', [], 'none'],
    ['only the drops', drops, 'none'],
    ['the coil is missing', [...whole, inH2O('filter_drop', 0.1)], 'unusable'],
    ['the fan stood', [saw('indoor_fan_running', 'no'), ...whole, ...drops], 'unusable'],
    ['the filter disagrees', [...whole, ...drops, inH2O('filter_drop', 0.4, 5)], 'disagree'],
  ])('%s: no figure', (_name, signs, kind) => {
    expect(ducts(signs).kind).toBe(kind);
  });
});

function airflowIn(signs: Sign[], plate: Nameplate): Settled {
  return airflowOf(admitEvidence(airHandler(signs, plate)));
}

function ducts(signs: Sign[]): Settled {
  return ductShareOf(admitEvidence(airHandler(signs)));
}

function figures(settled: Settled): [number, number] {
  if (settled.kind !== 'settled') throw new Error(`no figure: ${settled.kind}`);
  return [settled.measured.value, settled.measured.uncertainty];
}
