import { randomInt } from 'node:crypto';
import { v7 } from 'uuid';
import type { Clock } from './clock.ts';

/** Makes identifiers: UUID version 7 (RFC 9562), so that their order is the order of time. */
export interface Ids {
  next(): string;
}

/**
 * Identifiers by the given clock, rising also within one millisecond. They are names, never
 * secrets.
 */
export function timedIds(clock: Clock): Ids {
  let msecs = 0;
  let seq = 0;
  return {
    next: () => {
      const now = clock.now().getTime();
      // A clock set back would break the order, so the last instant is kept until time catches up.
      if (now > msecs) {
        msecs = now;
        seq = randomInt(2 ** 20);
      } else {
        seq += 1;
      }
      return v7({ msecs, seq });
    },
  };
}
