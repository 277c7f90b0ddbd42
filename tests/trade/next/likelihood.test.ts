import { describe, expect, test } from 'vitest';
import { faultCodeSchema, observationWords } from '../../../src/trade/index.ts';
import { type Clue, clues, sharesUnder, waysOf } from '../../../src/trade/next/likelihood.ts';
import { signCodeSchema, signWords } from '../../../src/trade/words/signs.ts';

const ways = faultCodeSchema.options.flatMap((fault) => waysOf(fault));

describe('what a fault makes likely', () => {
  test('every clue has shares that add up to one, as usual and in every way a fault can look', () => {
    for (const clue of clues) {
      for (const shares of [clue.usual, ...ways.map(({ number }) => sharesUnder(number, clue))]) {
        expect(shares.length).toBe(clue.outcomes.length);
        expect(shares.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12);
      }
    }
  });

  test('nothing is certain and nothing impossible: one slip of a pen rules out no fault', () => {
    for (const clue of clues) {
      for (const { number } of ways) {
        for (const share of sharesUnder(number, clue)) {
          expect(share).toBeGreaterThan(0.001);
          expect(share).toBeLessThan(0.999);
        }
      }
    }
  });

  test('what a fault does not speak of is as usual', () => {
    const [way] = waysOf('plugged_drain');
    expect(sharesUnder(way?.number ?? -1, clueOf('filter_dirty'))).toEqual(
      clueOf('filter_dirty').usual,
    );
    expect(sharesUnder(way?.number ?? -1, clueOf('drain_pan_full'))[0]).toBeGreaterThan(0.9);
  });

  test('what is left of a sign falls to its other classes as usual', () => {
    // Stated for the compressor section: failed 0.85, weak 0.13; fine keeps the last 0.02.
    const [way] = waysOf('run_capacitor_herm');
    const [failed, weak, fine] = sharesUnder(way?.number ?? -1, clueOf('capacitor_herm'));
    expect(failed).toBeCloseTo(0.85, 3);
    expect(weak).toBeCloseTo(0.13, 3);
    expect(fine).toBeCloseTo(0.02, 3);
  });

  test('the ways of a fault share it out whole on each side it can be on', () => {
    for (const fault of faultCodeSchema.options) {
      const sum = waysOf(fault).reduce((total, { scene }) => total + scene.share, 0);
      expect(sum, fault).toBeGreaterThan(0);
    }
  });

  test('no sign bears the name of an observation', () => {
    expect(signCodeSchema.options.filter((code) => code in observationWords)).toEqual([]);
  });

  test('the usual shares of every sign are written to add up to one', () => {
    for (const code of signCodeSchema.options) {
      const sum = Object.values(signWords[code].usually).reduce((total, each) => total + each, 0);
      expect(sum, code).toBeCloseTo(1, 9);
    }
  });
});

function clueOf(code: Clue['code']): Clue {
  const clue = clues.find((each) => each.code === code);
  if (clue === undefined) throw new Error(`no clue ${code}`);
  return clue;
}
