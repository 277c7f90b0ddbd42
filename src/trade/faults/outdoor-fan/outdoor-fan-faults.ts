import type { Fault } from '../fault.ts';

export const outdoorFanFaults = {} as const satisfies Record<string, Fault>;
