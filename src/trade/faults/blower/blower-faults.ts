import type { Fault } from '../fault.ts';

export const blowerFaults = {} as const satisfies Record<string, Fault>;
