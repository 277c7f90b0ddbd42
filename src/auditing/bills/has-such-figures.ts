import type { TaskCode } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';

/** Whether a task is about a part of such figures: two ratings make a dual capacitor, one a single. */
export function hasSuchFigures(task: TaskCode, { hermUf, microfarads }: FiguresSaid): boolean {
  if (hermUf !== undefined) return task === 'replace_dual_run_capacitor';
  if (microfarads === undefined) return true;
  return task.endsWith('_run_capacitor') && task !== 'replace_dual_run_capacitor';
}
