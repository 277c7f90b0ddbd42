import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * When money changed hands: now, unless the request says that it was earlier.
 * @throws ProblemError 400 for an instant that has not come
 */
export function refuseFuture({ now }: ActContext, pointer: string, told?: string): Date {
  const at = told === undefined ? now : new Date(told);
  if (at <= now) return at;
  throw wrongField(pointer, 'in_the_future', 'must not be in the future');
}
