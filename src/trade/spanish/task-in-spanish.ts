import { taskCodeSchema, taskWords } from '../words/tasks.ts';
import { tasksInSpanish } from './tasks.ts';

/**
 * What a task is called in Spanish, by its code; where an earlier document has kept its name alone,
 * by that. A name that the owner gave stays as it is where no code tells more.
 */
export function taskInSpanish({ code, name }: { code?: string; name: string }): string {
  const known = taskCodeSchema.options.find(
    (each) => each === code || (code === undefined && taskWords[each].name === name),
  );
  return known === undefined ? name : tasksInSpanish[known];
}
