import { describe, expect, it } from 'vitest';
import { photoRefusal } from '../../src/evidence/photo-refusal.ts';

describe('a photo is kept', () => {
  it.each([
    [200, 200],
    [200, 12_000],
    [4_032, 3_024],
    [12_000, 5_000],
  ])('of %i by %i pixels', (widthPx, heightPx) => {
    expect(photoRefusal({ widthPx, heightPx })).toBeUndefined();
    expect(photoRefusal({ widthPx: heightPx, heightPx: widthPx })).toBeUndefined();
  });
});

describe('a photo is refused, and told why', () => {
  it.each([
    [
      199,
      4_000,
      'The photo is 199 by 4000 pixels; with less than 200 on a side, nothing on it can be read.',
    ],
    [1, 1, 'The photo is 1 by 1 pixels; with less than 200 on a side, nothing on it can be read.'],
    [
      12_001,
      200,
      'The photo is 12001 by 200 pixels; the most is 12000 on a side and 60 megapixels in all.',
    ],
    [
      7_746,
      7_746,
      'The photo is 7746 by 7746 pixels; the most is 12000 on a side and 60 megapixels in all.',
    ],
    [
      2 ** 31,
      2 ** 31,
      'The photo is 2147483648 by 2147483648 pixels; the most is 12000 on a side and 60 megapixels in all.',
    ],
  ])('of %i by %i pixels', (widthPx, heightPx, message) => {
    expect(photoRefusal({ widthPx, heightPx })?.message).toBe(message);
  });
});
