import type { Fault } from '../fault.ts';

export const refrigerantFaults = {} as const satisfies Record<string, Fault>;
