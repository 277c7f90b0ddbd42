import type { Fault } from '../fault.ts';
import { stuckContactor } from './stuck-contactor.ts';
import { wornContactor } from './worn-contactor.ts';

export const contactorFaults = {
  worn_contactor: wornContactor,
  stuck_contactor: stuckContactor,
} as const satisfies Record<string, Fault>;
