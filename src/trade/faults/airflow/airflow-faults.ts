import type { Fault } from '../fault.ts';

export const airflowFaults = {} as const satisfies Record<string, Fault>;
