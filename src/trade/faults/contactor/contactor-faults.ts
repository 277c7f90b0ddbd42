import type { Fault } from '../fault.ts';
import { wornContactor } from './worn-contactor.ts';

export const contactorFaults = {
  worn_contactor: wornContactor,
} as const satisfies Record<string, Fault>;
