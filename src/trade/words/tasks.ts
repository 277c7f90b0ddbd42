import { z } from 'zod';
import { keysOf } from './keys-of.ts';

/**
 * A piece of work as the price book lists it. `restores` marks work that only puts back what
 * tripped, opened or ran empty: its class is reset wherever it appears, by type and by test.
 * `covers` names work that is done with it, so that nobody pays for that beside it.
 */
type TaskWords = { name: string; restores: boolean; covers?: readonly string[] };

export const taskWords = {
  replace_dual_run_capacitor: {
    name: 'Replace the dual run capacitor',
    restores: false,
    covers: ['replace_compressor_run_capacitor', 'replace_fan_run_capacitor'],
  },
  replace_compressor_run_capacitor: {
    name: 'Replace the run capacitor of the compressor',
    restores: false,
  },
  replace_fan_run_capacitor: {
    name: 'Replace the run capacitor of the outdoor fan',
    restores: false,
  },
  replace_contactor: { name: 'Replace the contactor', restores: false },
  reset_breaker: { name: 'Reset the breaker', restores: true },
  trace_breaker_trip: { name: 'Trace why the breaker trips', restores: false },
  replace_control_fuse: { name: 'Replace the control fuse', restores: true },
  trace_control_short: { name: 'Trace the short in the control circuit', restores: false },
  reset_float_switch: { name: 'Reset the float switch', restores: true },
  clear_condensate_drain: { name: 'Clear the condensate drain', restores: false },
} as const satisfies Record<string, TaskWords>;

export const taskCodeSchema = z.enum(keysOf(taskWords));
export type TaskCode = z.infer<typeof taskCodeSchema>;

/** The tasks that are done with this one. */
export function coveredBy(task: TaskCode): readonly string[] {
  const words: TaskWords = taskWords[task];
  return words.covers ?? [];
}

export type RestoringTask = {
  [Code in TaskCode]: (typeof taskWords)[Code]['restores'] extends true ? Code : never;
}[TaskCode];
