import type { Fault } from '../fault.ts';

export const compressorFaults = {} as const satisfies Record<string, Fault>;
