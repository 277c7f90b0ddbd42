import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectedInformationBits, tabulate } from '../../../src/trade/next/information.ts';

/** `tables[clue][suspect][outcome]` are shares. */
function bitsOf(shares: readonly number[], tables: readonly number[][][]): number {
  return expectedInformationBits(
    Float64Array.from(shares),
    tables.map((rows) => ({ shares: tabulate(rows), rows: Int32Array.from(shares.keys()) })),
  );
}

describe('expected information of a check, in bits', () => {
  // Shannon 1948: a channel without noise tells all of the source's entropy; two equal suspects are
  // one bit. The binary symmetric channel with error 0.1 tells 1 - H(0.1) = 0.5310 bits.
  test.each([
    [
      'tells two equal suspects apart for sure',
      [0.5, 0.5],
      [
        [
          [1, 0],
          [0, 1],
        ],
      ],
      1,
    ],
    [
      'tells four equal suspects apart by two clues',
      [0.25, 0.25, 0.25, 0.25],
      [
        [
          [1, 0],
          [1, 0],
          [0, 1],
          [0, 1],
        ],
        [
          [1, 0],
          [0, 1],
          [1, 0],
          [0, 1],
        ],
      ],
      2,
    ],
    [
      'errs in one of ten',
      [0.5, 0.5],
      [
        [
          [0.9, 0.1],
          [0.1, 0.9],
        ],
      ],
      0.5310044064,
    ],
    [
      'says the same whoever it is',
      [0.3, 0.7],
      [
        [
          [0.4, 0.6],
          [0.4, 0.6],
        ],
      ],
      0,
    ],
    [
      'is asked when all is known',
      [1, 0],
      [
        [
          [0.9, 0.1],
          [0.1, 0.9],
        ],
      ],
      0,
    ],
  ])('%s', (_name, shares, tables, bits) => {
    expect(bitsOf(shares, tables)).toBeCloseTo(bits, 9);
  });

  const share = fc.double({ min: 0.01, max: 0.99, noNaN: true });
  const clueOfThree = fc
    .tuple(share, share, share)
    .map((yes) => yes.map((each) => [each, 1 - each]));
  const shares = fc
    .tuple(share, share, share)
    .map((raw) => raw.map((each) => each / raw.reduce((sum, part) => sum + part, 0)));

  test('is never negative, and never more than is unknown', () => {
    fc.assert(
      fc.property(shares, fc.array(clueOfThree, { maxLength: 4 }), (weights, tables) => {
        const unknown = weights.reduce((sum, each) => sum - each * Math.log2(each), 0);
        const bits = bitsOf(weights, tables);
        expect(bits).toBeGreaterThanOrEqual(0);
        expect(bits).toBeLessThanOrEqual(unknown + 1e-9);
      }),
    );
  });

  test('never falls by one clue more', () => {
    fc.assert(
      fc.property(
        shares,
        fc.array(clueOfThree, { maxLength: 3 }),
        clueOfThree,
        (w, tables, more) => {
          const before = bitsOf(w, tables);
          expect(bitsOf(w, [...tables, more])).toBeGreaterThanOrEqual(before - 1e-9);
        },
      ),
    );
  });
});
