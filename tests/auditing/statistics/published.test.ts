import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addedChances,
  adjustedForMany,
  binomialChances,
  drawnChances,
  funnelLimit,
  robustScores,
  STANDS_OUT_ABOVE,
  shareInterval,
  upperTail,
} from '../../../src/auditing/index.ts';
import { exactDrawn, exactUpperTail } from './exact-chances.ts';

const tail = (count: number, trials: number, chance: number) =>
  upperTail(binomialChances(trials, chance), count);

describe('the chance of so many or more', () => {
  // Computed with SciPy 1.17 (scipy.stats.binom.sf), to seven places.
  it.each([
    { count: 9, trials: 20, chance: 0.15, is: 0.0013289 },
    { count: 7, trials: 25, chance: 0.12, is: 0.0242711 },
    { count: 9, trials: 60, chance: 0.05, is: 0.0028486 },
    { count: 4, trials: 12, chance: 0.1, is: 0.0256375 },
    { count: 60, trials: 100, chance: 0.5, is: 0.028444 },
    { count: 8, trials: 10, chance: 0.5, is: 0.0546875 },
  ])('$count of $trials at $chance is $is', ({ count, trials, chance, is }) => {
    expect(tail(count, trials, chance)).toBeCloseTo(is, 7);
  });

  // Six technicians, 35 of 244 together; with SciPy 1.17. The last is D beside the other five alone.
  it.each([
    { count: 2, trials: 40, chance: 35 / 244, is: 0.98427 },
    { count: 5, trials: 38, chance: 35 / 244, is: 0.65263 },
    { count: 3, trials: 44, chance: 35 / 244, is: 0.96162 },
    { count: 12, trials: 36, chance: 35 / 244, is: 0.00328 },
    { count: 4, trials: 41, chance: 35 / 244, is: 0.85839 },
    { count: 9, trials: 45, chance: 35 / 244, is: 0.18836 },
    { count: 12, trials: 36, chance: 23 / 208, is: 0.00032 },
  ])('$count of $trials of a technician is $is', ({ count, trials, chance, is }) => {
    expect(tail(count, trials, chance)).toBeCloseTo(is, 5);
  });

  it('agrees with the exact interval of the textbook: 682 of 925 (R, binom.test, after Conover; from memory)', () => {
    expect(tail(682, 925, 0.707668)).toBeCloseTo(0.025, 5);
    expect(1 - tail(683, 925, 0.765407)).toBeCloseTo(0.025, 5);
  });

  it('is that of exact fractions, to eleven digits', () => {
    const shares = fc.integer({ min: 0, max: 64 });
    fc.assert(
      fc.property(fc.nat(120), fc.nat(121), shares, (trials, count, sixtyFourths) => {
        const exact = exactUpperTail(count, trials, sixtyFourths, 64);
        const found = tail(count, trials, sixtyFourths / 64);
        expect(Math.abs(found - exact)).toBeLessThanOrEqual(exact * 1e-11);
      }),
    );
  });

  it('stays exact far out, where it is smaller than any rounding of one', () => {
    const exact = exactUpperTail(400, 1_000, 1, 16);
    expect(exact).toBeLessThan(1e-100);
    expect(tail(400, 1_000, 1 / 16) / exact).toBeCloseTo(1, 9);
  });

  it('of a mix of kinds is that of all of them counted together', () => {
    const kind = fc.record({
      trials: fc.nat(6),
      chance: fc.integer({ min: 0, max: 8 }).map((eighths) => eighths / 8),
    });
    fc.assert(
      fc.property(fc.array(kind, { maxLength: 3 }), (kinds) => {
        const chances = addedChances(
          kinds.map((each) => binomialChances(each.trials, each.chance)),
        );
        const single = kinds.flatMap(({ trials, chance }) => Array<number>(trials).fill(chance));
        const walked = byEveryOutcome(single);
        expect(chances).toHaveLength(walked.length);
        for (const [count, each] of walked.entries()) expect(chances[count]).toBeCloseTo(each, 13);
      }),
    );
  });

  it.each([
    ['a part of a trial', 1.5, 0.5],
    ['fewer than none', -1, 0.5],
    ['a chance above one', 10, 1.01],
    ['a chance that is no number', 10, Number.NaN],
  ])('is refused for %s', (_, trials, chance) => {
    expect(() => binomialChances(trials, chance)).toThrow(RangeError);
  });
});

/** The chance of each count by walking through every single outcome of the trials. */
function byEveryOutcome(chances: readonly number[]): number[] {
  const counted = Array<number>(chances.length + 1).fill(0);
  for (let outcome = 0; outcome < 2 ** chances.length; outcome += 1) {
    const hits = chances.map((_, at) => Math.floor(outcome / 2 ** at) % 2 === 1);
    const chance = chances.reduce((all, each, at) => all * (hits[at] ? each : 1 - each), 1);
    const count = hits.filter(Boolean).length;
    counted[count] = (counted[count] ?? 0) + chance;
  }
  return counted;
}

describe('the chance of so many marked among some that are drawn blindly', () => {
  // R. A. Fisher, "The Design of Experiments" (1935), chapter 2: of eight cups four are named; all
  // four rightly in 1 of 70 ways, three in 16. From memory.
  it('is that of the lady who tastes tea', () => {
    const chances = drawnChances({ all: 8, marked: 4 }, 4);
    expect([...chances].map((each) => Math.round(each * 70))).toEqual([1, 16, 36, 16, 1]);
    expect(chances[4]).toBeCloseTo(1 / 70, 15);
  });

  it('is that of exact fractions, to eleven digits', () => {
    fc.assert(
      fc.property(fc.nat(80), fc.nat(80), fc.nat(80), (all, some, more) => {
        const [marked, drawn] = [Math.min(some, all), Math.min(more, all)];
        const chances = drawnChances({ all, marked }, drawn);
        expect(chances).toHaveLength(drawn + 1);
        for (const [count, chance] of chances.entries()) {
          const exact = exactDrawn(count, all, marked, drawn);
          expect(Math.abs(chance - exact)).toBeLessThanOrEqual(exact * 1e-11);
        }
      }),
    );
  });

  it('comes near independent trials where the lot is large', () => {
    const chances = drawnChances({ all: 10_000_000, marked: 1_500_000 }, 20);
    expect(upperTail(chances, 9)).toBeCloseTo(0.0013289, 6);
  });

  it.each([
    ['more marked than there are', { all: 4, marked: 5 }, 2],
    ['more drawn than there are', { all: 4, marked: 2 }, 5],
    ['a part of one', { all: 4.5, marked: 2 }, 2],
    ['fewer than none', { all: 4, marked: -1 }, 2],
  ])('is refused for %s', (_, lot, drawn) => {
    expect(() => drawnChances(lot, drawn)).toThrow(RangeError);
  });
});

describe('many looked at together', () => {
  // The fifteen values of Benjamini and Hochberg (1995), section 3.2; adjusted with SciPy 1.17.
  const published = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719,
    0.6528, 0.759, 1,
  ];
  const adjusted = [
    0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182,
    0.714875, 0.753231, 0.813214, 1,
  ];

  it('are adjusted as the paper’s example: four stand at 0.05', () => {
    const found = adjustedForMany(published);
    expect(found.map((each) => Number(each.toFixed(6)))).toEqual(adjusted);
    expect(found.filter((each) => each <= 0.05)).toHaveLength(4);
  });

  it('are adjusted alike in whatever order they come', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(published, { minLength: 15 }), (shuffled) => {
        const found = adjustedForMany(shuffled);
        for (const [at, chance] of shuffled.entries()) {
          expect(found[at]).toBeCloseTo(adjusted[published.indexOf(chance)] ?? -1, 6);
        }
      }),
    );
  });

  it('never count for more than each alone, and one alone counts for what it is', () => {
    const chances = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1 });
    fc.assert(
      fc.property(chances, (all) => {
        for (const [at, each] of adjustedForMany(all).entries()) {
          expect(each).toBeGreaterThanOrEqual(all[at] ?? 1);
          expect(each).toBeLessThanOrEqual(1);
        }
        expect(adjustedForMany(all.slice(0, 1))).toEqual(all.slice(0, 1));
      }),
    );
  });
});

describe('an amount that stands out', () => {
  // Rule and factor: NIST/SEMATECH e-Handbook 1.3.5.17; figures computed from it.
  it.each([
    { of: [1, 1, 2, 2, 4, 6, 9], at: 5, is: 2.698, standsOut: false },
    { of: [1, 1, 2, 2, 4, 6, 9], at: 6, is: 4.7215, standsOut: true },
    { of: [118, 125, 131, 122, 129, 127, 120, 198], at: 7, is: 10.792, standsOut: true },
    { of: [95, 95, 95, 95, 95, 95, 110, 180], at: 6, is: 0.957, standsOut: false },
    { of: [95, 95, 95, 95, 95, 95, 110, 180], at: 7, is: 5.426, standsOut: true },
    { of: [95, 95, 95], at: 0, is: 0, standsOut: false },
  ])('number $at of $of scores $is', ({ of, at, is, standsOut }) => {
    const score = robustScores(of)[at] ?? Number.NaN;
    expect(score).toBeCloseTo(is, 3);
    expect(Math.abs(score) > STANDS_OUT_ABOVE).toBe(standsOut);
  });

  it('is none where there is none', () => {
    expect(robustScores([])).toEqual([]);
  });
});

describe('a counted share', () => {
  // Newcombe (1998), table I, method 3: the first four; the others computed with SciPy 1.17.
  it.each([
    { count: 81, trials: 263, low: 0.2553, high: 0.3662 },
    { count: 15, trials: 148, low: 0.0624, high: 0.1605 },
    { count: 0, trials: 20, low: 0, high: 0.1611 },
    { count: 1, trials: 29, low: 0.0061, high: 0.1718 },
    { count: 0, trials: 10, low: 0, high: 0.2775 },
    { count: 9, trials: 20, low: 0.2582, high: 0.6579 },
    { count: 3, trials: 40, low: 0.0258, high: 0.1986 },
  ])('$count of $trials lies between $low and $high', ({ count, trials, low, high }) => {
    const interval = shareInterval(count, trials);
    expect(interval.low).toBeCloseTo(low, 4);
    expect(interval.high).toBeCloseTo(high, 4);
  });

  it('turned around is the same interval turned around', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5_000 }), fc.nat(5_000), (trials, some) => {
        const count = Math.min(some, trials);
        const [one, other] = [shareInterval(count, trials), shareInterval(trials - count, trials)];
        expect(one.low).toBeCloseTo(1 - other.high, 12);
        expect(one.low).toBeLessThanOrEqual(count / trials);
        expect(one.high).toBeGreaterThanOrEqual(count / trials);
      }),
    );
  });

  it('is none without a trial', () => {
    expect(() => shareInterval(0, 0)).toThrow(RangeError);
    expect(() => shareInterval(3, 2)).toThrow(RangeError);
  });
});

describe('the edge of a funnel', () => {
  // The exact interpolated limits of Spiegelhalter (2005), appendix, at a share of 0.12; computed
  // with SciPy 1.17 from the formula.
  it.each([
    { trials: 50, below: 0.025, is: 0.0262 },
    { trials: 50, below: 0.975, is: 0.2079 },
    { trials: 50, below: 0.999, is: 0.2726 },
    { trials: 100, below: 0.025, is: 0.0545 },
    { trials: 100, below: 0.975, is: 0.1824 },
    { trials: 100, below: 0.999, is: 0.2259 },
    { trials: 25, below: 0.975, is: 0.2394 },
    { trials: 25, below: 0.999, is: 0.3413 },
  ])('with $trials trials, $below of all lie below $is', ({ trials, below, is }) => {
    expect(funnelLimit(0.12, trials, below)).toBeCloseTo(is, 4);
  });

  it('comes near the normal limits where there are many: 0.12 ± z √(0.12 · 0.88 / n)', () => {
    for (const [below, z] of [
      [0.025, -1.96],
      [0.975, 1.96],
      [0.001, -3.09],
      [0.999, 3.09],
    ] as const) {
      const normal = 0.12 + z * Math.sqrt((0.12 * 0.88) / 20_000);
      expect(funnelLimit(0.12, 20_000, below)).toBeCloseTo(normal, 3);
    }
  });

  it('grows narrower with more trials', () => {
    const widths = [20, 80, 320, 1_280].map(
      (trials) => funnelLimit(0.12, trials, 0.999) - funnelLimit(0.12, trials, 0.001),
    );
    expect([...widths].sort((one, other) => other - one)).toEqual(widths);
  });

  it('is nothing where nobody has any, and all where everybody has', () => {
    expect(funnelLimit(0, 40, 0.999)).toBeCloseTo(0, 1);
    expect(funnelLimit(1, 40, 0.999)).toBeCloseTo(1, 1);
  });
});
