import type { Fault } from '../fault.ts';
import { openControlFuse } from './open-control-fuse.ts';

export const controlFaults = {
  open_control_fuse: openControlFuse,
} as const satisfies Record<string, Fault>;
