import { ProblemError } from '../platform/http/problem.ts';
import { checkNameplate, type Nameplate } from '../trade/index.ts';

/**
 * Refuses a nameplate with figures that no plate of this trade says.
 * @throws ProblemError 400 naming each of them
 */
export function refuseImpossiblePlate(nameplate: Nameplate): void {
  const refusals = checkNameplate(nameplate);
  if (refusals.length === 0) return;
  throw new ProblemError('validation-failed', 'The nameplate cannot say that.', {
    errors: refusals.map(({ field, code, message }) => ({
      in: 'body',
      pointer: `/nameplate/${field}`,
      code,
      message,
    })),
  });
}
