import type { Question } from './script.ts';

/** Whether an answer to it can stop the dialogue in danger. */
export function isDangerQuestion({ stops = [] }: Question): boolean {
  return stops.some((stop) => 'danger' in stop);
}
