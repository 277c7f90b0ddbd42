import type { Clock } from '../../src/platform/clock.ts';

/** A clock that stands still until it is moved: a Tuesday in July, one in the afternoon locally. */
export interface FixedClock extends Clock {
  set(instant: string): void;
  advance(milliseconds: number): void;
}

/** @param instant RFC 3339; the default is 13:00 on 2026-07-14 in America/Chicago */
export function fixedClock(instant = '2026-07-14T18:00:00Z'): FixedClock {
  let now = new Date(instant);
  return {
    now: () => new Date(now),
    set: (next) => {
      now = new Date(next);
    },
    advance: (milliseconds) => {
      now = new Date(now.getTime() + milliseconds);
    },
  };
}

/** Does something at another time, and comes back from there however that ends. */
export async function atTime<T>(
  clock: FixedClock,
  instant: string | Date,
  work: () => Promise<T>,
): Promise<T> {
  const before = clock.now().toISOString();
  clock.set(new Date(instant).toISOString());
  try {
    return await work();
  } finally {
    clock.set(before);
  }
}
