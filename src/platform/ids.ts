import { v7 } from 'uuid';
import type { Clock } from './clock.ts';

/** Makes identifiers: UUID version 7 (RFC 9562), so that their order is the order of time. */
export interface Ids {
  next(): string;
}

/** Identifiers by the given clock. They are names, never secrets. */
export function timedIds(clock: Clock): Ids {
  return { next: () => v7({ msecs: clock.now().getTime() }) };
}
