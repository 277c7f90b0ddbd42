import { wrongField } from './problem.ts';
import type { ActContext } from './route.ts';

/** A phone's clock may differ a little from ours, either way. */
export const clockDifferenceMilliseconds = 120_000;

/**
 * When something happened: now, unless the request says when. A clock a little fast is forgiven, so
 * the moment may be up to two minutes ahead of ours.
 * @throws ProblemError 400 for a moment that has not come
 */
export function momentTold(
  { now }: Pick<ActContext, 'now'>,
  pointer: string,
  told: string | undefined,
): Date {
  const at = told === undefined ? now : new Date(told);
  if (at.getTime() <= now.getTime() + clockDifferenceMilliseconds) return at;
  throw wrongField(pointer, 'in_the_future', 'is in the future');
}
