import type { Fault } from '../fault.ts';
import { crackedDrainPan } from './cracked-drain-pan.ts';
import { failedCondensatePump } from './failed-condensate-pump.ts';
import { failedFloatSwitch } from './failed-float-switch.ts';
import { openFloatSwitch } from './open-float-switch.ts';
import { pluggedDrain } from './plugged-drain.ts';

export const condensateFaults = {
  plugged_drain: pluggedDrain,
  open_float_switch: openFloatSwitch,
  failed_float_switch: failedFloatSwitch,
  failed_condensate_pump: failedCondensatePump,
  cracked_drain_pan: crackedDrainPan,
} as const satisfies Record<string, Fault>;
