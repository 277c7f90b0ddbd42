import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ATTEMPTS_MAX, nextAttempt } from '../../src/delivery/next-attempt.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const now = new Date('2026-07-14T18:00:00Z');

const waited = (attempts: number, share: number) => {
  const next = nextAttempt(now, attempts, share);
  return next && next.getTime() - now.getTime();
};

describe('when to try again', () => {
  test.each([
    [1, 1 * MINUTE],
    [2, 5 * MINUTE],
    [3, 15 * MINUTE],
    [4, 1 * HOUR],
    [5, 3 * HOUR],
    [6, 6 * HOUR],
    [7, 12 * HOUR],
    [8, 24 * HOUR],
  ])('after attempt %i: %i ms, up to a fifth later', (attempts, ms) => {
    expect(waited(attempts, 0)).toBe(ms);
    expect(waited(attempts, 0.5)).toBe((ms / 10) * 11);
    expect(waited(attempts, 1)).toBe((ms / 10) * 12);
  });

  test('never after the ninth: by then it was tried for two days', () => {
    expect(ATTEMPTS_MAX).toBe(9);
    expect(nextAttempt(now, ATTEMPTS_MAX, 0)).toBeUndefined();
    const inAll = Array.from({ length: ATTEMPTS_MAX - 1 }, (_, at) => waited(at + 1, 0) ?? 0);
    expect(inAll.reduce((sum, ms) => sum + ms) / HOUR).toBeCloseTo(46.35, 2);
  });

  test('whatever was before: later than now, within 29 hours, and later the more often it failed', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('2000-01-01'), max: new Date('2100-01-01'), noInvalidDate: true }),
        fc.integer({ min: 1, max: ATTEMPTS_MAX - 1 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (moment, attempts, share, other) => {
          const next = nextAttempt(moment, attempts, share)?.getTime() ?? Number.NaN;
          expect(next).toBeGreaterThanOrEqual(moment.getTime() + MINUTE);
          expect(next).toBeLessThanOrEqual(moment.getTime() + 29 * HOUR);
          const later = nextAttempt(moment, attempts + 1, other)?.getTime();
          if (later !== undefined) expect(later).toBeGreaterThan(next);
        },
      ),
    );
  });
});
