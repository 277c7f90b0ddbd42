import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Random, randomFor } from '../../../seed/big-company/random.ts';
import { type Counted, compareWithOthers } from '../../../src/auditing/index.ts';
import { exactDrawn } from './exact-chances.ts';

const one = (subject: string, count: number, trials: number): Counted => ({
  subject,
  kinds: { any: { trials, count } },
});

/** Resets billed as repairs by six technicians. */
const six = [
  one('A', 2, 40),
  one('B', 5, 38),
  one('C', 3, 44),
  one('D', 12, 36),
  one('E', 4, 41),
  one('F', 9, 45),
];

describe('each of several beside the others', () => {
  it('of six technicians D alone stands out, measured by what the other five do', () => {
    const found = compareWithOthers(six);
    const standing = found.filter(({ standing }) => standing === 'stands_out');
    expect(standing.map(({ subject }) => subject)).toEqual(['D']);
    // All the ways in which 12 or more of the 35 may fall into D's 36 of 244 jobs.
    const exact = Array.from({ length: 25 }, (_, at) => exactDrawn(12 + at, 244, 35, 36));
    const chance = exact.reduce((sum, each) => sum + each, 0);
    expect(standing[0]?.chance).toBeCloseTo(chance, 14);
    // The smallest of six.
    expect(standing[0]?.adjustedChance).toBeCloseTo(6 * chance, 14);
    // The others' 23 of 208.
    expect(standing[0]?.expectedCount).toBeCloseTo((36 * 23) / 208, 12);
  });

  it('nobody is blamed for the jobs they are sent to', () => {
    // Old homes trip twice as often whoever comes, and the last is sent to nothing else.
    const mixed = (subject: string): Counted => ({
      subject,
      kinds: { old: { trials: 20, count: 8 }, young: { trials: 80, count: 8 } },
    });
    const oldOnly: Counted = { subject: 'last', kinds: { old: { trials: 100, count: 40 } } };
    const all = [...['a', 'b', 'c', 'd', 'e'].map(mixed), oldOnly];
    expect(compareWithOthers(all).every(({ standing }) => standing === 'like_others')).toBe(true);
    const lumped = all.map(({ subject, kinds }) => {
      const sums = Object.values(kinds);
      const sum = (of: 'count' | 'trials') => sums.reduce((total, each) => total + each[of], 0);
      return one(subject, sum('count'), sum('trials'));
    });
    expect(compareWithOthers(lumped).at(-1)?.standing).toBe('stands_out');
  });

  it('says that there is not enough to say, for few jobs, and for kinds that nobody else does', () => {
    const few = compareWithOthers([...six, one('new', 9, 9)]);
    expect(few.at(-1)).toMatchObject({ standing: 'not_enough_data', chance: null });
    const own: Counted = { subject: 'alone', kinds: { boilers: { trials: 90, count: 80 } } };
    expect(compareWithOthers([...six, own]).at(-1)).toEqual({
      ...{ subject: 'alone', ownTrials: 90, ownCount: 80 },
      ...{ trials: 0, count: 0, expectedCount: 0 },
      ...{ chance: null, chanceOfFewer: null, adjustedChance: null, standing: 'not_enough_data' },
    });
    expect(compareWithOthers([one('only', 50, 60)])[0]?.standing).toBe('not_enough_data');
    expect(compareWithOthers([])).toEqual([]);
  });

  it('once is not proof where the others never did it', () => {
    const [first] = compareWithOthers([one('a', 1, 20), one('b', 0, 20), one('c', 0, 20)]);
    expect(first).toMatchObject({ standing: 'like_others' });
    const [often] = compareWithOthers([one('a', 6, 20), one('b', 0, 20), one('c', 0, 20)]);
    expect(often).toMatchObject({ standing: 'stands_out' });
  });

  it('comes out alike in whatever order they stand', () => {
    const byName = (found: ReturnType<typeof compareWithOthers>) =>
      [...found].sort((x, y) => (x.subject < y.subject ? -1 : 1));
    fc.assert(
      fc.property(fc.shuffledSubarray(six, { minLength: 6 }), (shuffled) => {
        expect(byName(compareWithOthers(shuffled))).toEqual(byName(compareWithOthers(six)));
      }),
    );
  });

  it('knows the chance of so few or fewer too: with that of one more it makes one', () => {
    const [a] = compareWithOthers(six);
    // All the ways in which 2 or fewer of the 35 may fall into A's 40 of 244 jobs.
    const exact = [0, 1, 2].map((count) => exactDrawn(count, 244, 35, 40));
    expect(a?.chanceOfFewer).toBeCloseTo(
      exact.reduce((sum, each) => sum + each, 0),
      14,
    );
    const [oneMore] = compareWithOthers([one('A', 3, 40), one('rest', 32, 204)]);
    expect((a?.chanceOfFewer ?? 0) + (oneMore?.chance ?? 0)).toBeCloseTo(1, 12);
    const [all] = compareWithOthers([one('a', 20, 20), one('b', 0, 20)]);
    expect(all?.chanceOfFewer).toBe(1);
  });

  it('refuses to count more than there were', () => {
    expect(() => compareWithOthers([one('a', 4, 3)])).toThrow(RangeError);
  });
});

describe('where all do alike and chance alone decides', () => {
  it('somebody stands out in about as few of a thousand companies as was asked for', () => {
    const random = randomFor(20_260_714, 'all do alike', 0);
    const share = (falseShareMax: number) => {
      let flagged = 0;
      for (let company = 0; company < 1_000; company += 1) {
        const all = Array.from({ length: 8 }, (_, at) => someoneUsual(String(at), random));
        const found = compareWithOthers(all, { falseShareMax });
        if (found.some(({ standing }) => standing === 'stands_out')) flagged += 1;
      }
      return flagged / 1_000;
    };
    const [strict, loose] = [share(0.05), share(0.2)];
    // Three deviations of a count in a thousand above what was asked for.
    expect(strict).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 1_000));
    expect(loose).toBeLessThan(0.2 + 3 * Math.sqrt((0.2 * 0.8) / 1_000));
    expect(loose).toBeGreaterThan(0.05);
  });

  it('and two who do it three times as often do, nearly always, and nearly nobody with them', () => {
    const random = randomFor(417, 'two do it often', 0);
    let both = 0;
    let others = 0;
    for (let company = 0; company < 200; company += 1) {
      const all = Array.from({ length: 10 }, (_, at) =>
        someoneUsual(String(at), random, at < 2 ? 3 : 1),
      );
      const found = compareWithOthers(all).filter(({ standing }) => standing === 'stands_out');
      if (['0', '1'].every((bad) => found.some(({ subject }) => subject === bad))) both += 1;
      others += found.filter(({ subject }) => Number(subject) > 1).length;
    }
    expect(both).toBeGreaterThan(190);
    expect(others / 200).toBeLessThan(0.05 * 2);
  });
});

/** Does it on one of twenty young and one of eight old systems, or so many times as often. */
function someoneUsual(subject: string, random: Random, times = 1): Counted {
  const done = (trials: number, chance: number) => ({
    trials,
    count: Array.from({ length: trials }, () => random.chance(chance * times)).filter(Boolean)
      .length,
  });
  return { subject, kinds: { young: done(120, 1 / 20), old: done(60, 1 / 8) } };
}
