import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  externalStaticLimit,
  judgeExternalStatic,
  totalExternalStaticInH2O,
} from '../../../src/trade/air/external-static.ts';
import { fanAtAirflow, fanAtSpeedRatio } from '../../../src/trade/air/fan-laws.ts';

// A published field-formula page: suction and pressure add up; most residential blowers 0.50.
describe('what the blower works against', () => {
  it.each([-0.22, 0.22])('a return of %d and a supply of 0.31 are 0.53 in. w.c.', (returnInH2O) => {
    expect(totalExternalStaticInH2O(returnInH2O, 0.31)).toBeCloseTo(0.53, 12);
  });

  it('0.53 is 106 % of the usual 0.50, and it is said that the 0.50 is only usual', () => {
    const limit = externalStaticLimit(undefined);
    expect(limit).toEqual({ limitInH2O: 0.5, basis: 'usual' });
    const judged = judgeExternalStatic({ inH2O: 0.53, uncertaintyInH2O: 0.02 }, limit);
    expect(judged.verdict).toBe('above');
    expect(judged.percentOfLimit).toBeCloseTo(106, 9);
  });

  it.each([
    ['its own plate counts', 0.53, 0.02, 0.8, 'below'],
    ['surely too much', 0.85, 0.02, 0.8, 'above'],
    ['the gauge cannot tell', 0.81, 0.02, 0.8, 'within'],
  ] as const)('%s', (_what, inH2O, uncertaintyInH2O, plate, verdict) => {
    const limit = externalStaticLimit(plate);
    expect(limit.basis).toBe('plate');
    expect(judgeExternalStatic({ inH2O, uncertaintyInH2O }, limit).verdict).toBe(verdict);
  });
});

// The fan laws, from memory of AMCA and ASHRAE; computed from them.
describe('a fan in the same ducts', () => {
  it('10 % faster: 1.21 times the pressure, 1.331 times the power', () => {
    const fan = fanAtSpeedRatio({ airflowCfm: 1000, staticInH2O: 1, power: 1 }, 1.1);
    expect(fan.airflowCfm).toBeCloseTo(1100, 9);
    expect(fan.staticInH2O).toBeCloseTo(1.21, 9);
    expect(fan.power).toBeCloseTo(1.331, 9);
  });

  it.each([
    [1000, 1200, 0.5, 0.72, 1.728],
    [1200, 1050, 0.6, 0.459, 0.67],
  ])('from %d to %d CFM: %d becomes %d in. w.c.', (from, to, was, becomes, power) => {
    const fan = fanAtAirflow({ airflowCfm: from, staticInH2O: was, power: 1 }, to);
    expect(fan.staticInH2O).toBeCloseTo(becomes, 3);
    expect(fan.power).toBeCloseTo(power, 3);
  });

  test('back at its old airflow it is the old fan', () => {
    const anyAirflow = fc.integer({ min: 200, max: 2400 });
    fc.assert(
      fc.property(anyAirflow, anyAirflow, (from, to) => {
        const now = { airflowCfm: from, staticInH2O: 0.5, power: 400 };
        const back = fanAtAirflow(fanAtAirflow(now, to), from);
        expect(back.staticInH2O).toBeCloseTo(0.5, 9);
        expect(back.power).toBeCloseTo(400, 6);
      }),
    );
  });
});
