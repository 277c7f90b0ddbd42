import type { TaskCode } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';

/** A control circuit is of class 2, of which no fuse is larger: NFPA 70, chapter 9, table 11(A). */
const CONTROL_FUSE_AMPS_MAX = 5;

/** The smallest standard rating of what protects a branch circuit: NFPA 70, section 240.6(A). */
const DISCONNECT_FUSE_AMPS_MIN = 15;

/**
 * Whether a task is about a part of such figures: two ratings make a dual capacitor, one a single;
 * a fuse of 3 A belongs to the control circuit and one of 35 A to the disconnect; one of 10 A may be
 * either.
 */
export function hasSuchFigures(
  task: TaskCode,
  { hermUf, microfarads, amps }: FiguresSaid,
): boolean {
  if (task === 'replace_control_fuse' && amps !== undefined) return amps < DISCONNECT_FUSE_AMPS_MIN;
  if (task === 'replace_disconnect_fuses' && amps !== undefined) {
    return amps > CONTROL_FUSE_AMPS_MAX;
  }
  if (hermUf !== undefined) return task === 'replace_dual_run_capacitor';
  if (microfarads === undefined) return true;
  return task.endsWith('_run_capacitor') && task !== 'replace_dual_run_capacitor';
}
