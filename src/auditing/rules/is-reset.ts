import { taskCodeSchema, taskWords } from '../../trade/index.ts';

/** Whether a task only puts back what tripped, opened or ran empty. */
export function isReset(taskCode: string): boolean {
  const task = taskCodeSchema.safeParse(taskCode);
  return task.success && taskWords[task.data].restores;
}
