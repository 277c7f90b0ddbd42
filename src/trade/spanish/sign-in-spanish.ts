import type { FaultCode } from '../faults/catalog.ts';
import type { Criterion } from '../verdicts/verdict.ts';
import { faultsInSpanish } from './faults.ts';

/**
 * What a sign of a verdict says in Spanish. Of one that a stored verdict holds and no rule has any
 * more, only to which side it speaks.
 */
export function signInSpanish(
  faultCode: FaultCode,
  { id, direction, statement }: Pick<Criterion, 'id' | 'direction' | 'statement'>,
): string {
  const { signs, signsAsSaid } = faultsInSpanish[faultCode];
  return signsAsSaid?.[statement] ?? signs[id] ?? unknownSigns[direction];
}

const unknownSigns: Record<Criterion['direction'], string> = {
  for: 'Hay una señal que apoya este hallazgo.',
  against: 'Hay una señal en contra de este hallazgo.',
};
