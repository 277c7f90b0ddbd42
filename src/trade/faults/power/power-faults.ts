import type { Fault } from '../fault.ts';
import { trippedBreaker } from './tripped-breaker.ts';

export const powerFaults = {
  tripped_breaker: trippedBreaker,
} as const satisfies Record<string, Fault>;
