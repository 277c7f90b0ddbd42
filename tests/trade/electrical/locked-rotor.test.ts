import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { judgeRunningAmps, ratedLoadAmps } from '../../../src/trade/electrical/locked-rotor.ts';

const plate = { rlaAmps: 17.9, lraAmps: 112 };

// Common practice, no source.
describe('what the amps of a compressor say', () => {
  it.each([
    ['a locked rotor', 108, 2.5, 'near_lra'],
    ['a locked rotor on a low supply', 95, 2.5, 'near_lra'],
    ['an overload that lasts', 24, 0.6, 'above_rla'],
    ['a healthy load', 12.4, 0.4, 'normal'],
    ['the light load of a mild day', 7.4, 0.1, 'normal'],
    ['hardly any load', 4.1, 0.2, 'far_below'],
    ['so near the rating that the meter cannot tell', 18, 0.4, 'undecided'],
    ['between an overload and a locked rotor', 84, 2, 'undecided'],
  ] as const)('%s: %d A', (_what, amps, uncertaintyAmps, verdict) => {
    expect(judgeRunningAmps({ ...plate, amps, uncertaintyAmps })).toBe(verdict);
  });

  it('108 A is a locked rotor without its LRA on the plate, too', () => {
    expect(judgeRunningAmps({ amps: 108, uncertaintyAmps: 2.5, rlaAmps: 17.9 })).toBe('near_lra');
  });

  it('112 A of LRA are 6.26 times 17.9 A of RLA, within the usual 4 to 7', () => {
    expect(plate.lraAmps / plate.rlaAmps).toBeCloseTo(6.26, 2);
  });

  // From memory of UL 1995 and 60335 practice.
  it('27.9 A that it may draw for long are 17.9 A of RLA on the plate', () => {
    expect(ratedLoadAmps(27.9)).toBeCloseTo(17.88, 2);
  });

  test('more amps never say less load', () => {
    const order = ['far_below', 'normal', 'above_rla', 'near_lra'];
    const anyAmps = fc.double({ min: 0, max: 150, noNaN: true });
    fc.assert(
      fc.property(anyAmps, anyAmps, (a, b) => {
        const load = (amps: number) => {
          const verdict = judgeRunningAmps({ ...plate, amps, uncertaintyAmps: 0.02 * amps });
          fc.pre(verdict !== 'undecided');
          return order.indexOf(verdict);
        };
        expect(load(Math.min(a, b))).toBeLessThanOrEqual(load(Math.max(a, b)));
      }),
    );
  });
});
