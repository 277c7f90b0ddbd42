import { clockDifferenceMilliseconds, momentTold } from '../platform/http/moment-told.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * When something was seen, measured or done at a visit: the time given, or now.
 * @throws ProblemError 400 for a time in the future, or before the technician had arrived
 */
export function momentAtVisit(
  act: ActContext,
  { arrivedAt }: { arrivedAt: Date },
  given: string | undefined,
  pointer: string,
): Date {
  const at = momentTold(act, pointer, given);
  if (at.getTime() >= arrivedAt.getTime() - clockDifferenceMilliseconds) return at;
  const arrival = `is before the technician arrived, at ${arrivedAt.toISOString()}`;
  throw wrongField(pointer, 'before_arrival', arrival);
}
