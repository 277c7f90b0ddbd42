import type { Fault } from '../fault.ts';
import { openFloatSwitch } from './open-float-switch.ts';
import { pluggedDrain } from './plugged-drain.ts';

export const condensateFaults = {
  plugged_drain: pluggedDrain,
  open_float_switch: openFloatSwitch,
} as const satisfies Record<string, Fault>;
