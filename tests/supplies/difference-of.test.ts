import { describe, expect, it } from 'vitest';
import { differenceOf } from '../../src/supplies/difference-of.ts';

describe('how far a billed cost is from the book’s', () => {
  it.each([
    [2_024, 1_840, 184, '10.0'],
    [1_700, 1_840, -140, '-7.6'],
    [1_840, 1_840, 0, '0.0'],
    [99_999, 100_000, -1, '0.0'],
    [1_001, 1_000, 1, '0.1'],
    [500, 0, 500, null],
  ])('%i against %i', (billed, book, differenceCents, differencePercent) => {
    expect(differenceOf(billed, book)).toEqual({ differenceCents, differencePercent });
  });
});
