import { describe, expect, it } from 'vitest';
import { shareText } from '../../src/audit-reports/share-text.ts';

describe('a share in words', () => {
  it.each([
    { count: 0, trials: 0, text: '' },
    { count: 3, trials: 4, text: '3 of 4' },
    { count: 9, trials: 9, text: '9 of 9' },
    { count: 1, trials: 10, text: '10% of 10' },
    { count: 155, trials: 1_240, text: '12.5% of 1,240' },
    // 2 of 3,000 are 0.0666 %.
    { count: 2, trials: 3_000, text: '0.1% of 3,000' },
    // None and all are only what is none and all.
    { count: 0, trials: 5_000, text: '0% of 5,000' },
    { count: 2, trials: 5_000, text: '<0.1% of 5,000' },
    { count: 4_999, trials: 5_000, text: '>99.9% of 5,000' },
    { count: 999, trials: 1_000, text: '99.9% of 1,000' },
    { count: 5_000, trials: 5_000, text: '100% of 5,000' },
  ])('$count of $trials: "$text"', ({ count, trials, text }) => {
    expect(shareText(count, trials)).toBe(text);
  });
});
