import { ProblemError } from '../platform/http/problem.ts';
import { checkNameplate, type Nameplate } from '../trade/index.ts';

/**
 * Refuses a nameplate with figures that no plate of this trade says.
 * @param at where in the body the nameplate stands
 * @throws ProblemError 400 naming each of them
 */
export function refuseImpossiblePlate(nameplate: Nameplate, at = '/nameplate'): void {
  const refusals = checkNameplate(nameplate);
  if (refusals.length === 0) return;
  throw new ProblemError('validation-failed', 'The nameplate cannot say that.', {
    errors: refusals.map(({ field, code, message }) => ({
      in: 'body',
      pointer: `${at}/${field}`,
      code,
      message,
    })),
  });
}
