import type { Fault } from '../fault.ts';

export const heatPumpFaults = {} as const satisfies Record<string, Fault>;
