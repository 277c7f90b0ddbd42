import type { Visit } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';

/** Far more than anybody records at one visit, and few enough to be weighed while he waits. */
export const keptOfVisitMax = 1_000;

/**
 * Refuses more of a kind of evidence than a visit can hold: all of it is weighed at every question.
 * @param kept how many are on record; the visit must be locked, or two could fill the last place
 * @param added how many would come to them
 * @throws ProblemError 409 saying how many there are
 */
export function refuseTooMany(
  { state }: Pick<Visit, 'state'>,
  what: 'readings' | 'observations',
  { kept, added }: { kept: number; added: number },
): void {
  if (kept + added <= keptOfVisitMax) return;
  throw new ProblemError(
    'not-allowed-now',
    `A visit holds up to ${keptOfVisitMax} ${what}; this one has ${kept}, and ${added} more were sent.`,
    { currentState: state, allowedActions: [] },
  );
}
