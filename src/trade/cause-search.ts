import type { Observation } from './evidence.ts';
import { type FaultCode, faults } from './faults/catalog.ts';

/**
 * Whether the search for the cause behind a symptom is on record; a reset without it is incomplete.
 * Looking counts before or after the reset, but only a technician's own looking does. A fault that
 * is a cause itself has none due.
 */
export function causeSearch(
  faultCode: FaultCode,
  observations: readonly Pick<Observation, 'code' | 'answer' | 'source'>[],
): 'recorded' | 'missing' | 'not_due' {
  const fault = faults[faultCode];
  if (fault.role === 'cause') return 'not_due';
  const isRecorded = fault.causeSearch.recordedBy.some(
    (sign) =>
      'observation' in sign &&
      observations.some(
        (each) =>
          each.code === sign.observation &&
          each.source === 'observed' &&
          sign.answers.includes(each.answer),
      ),
  );
  return isRecorded ? 'recorded' : 'missing';
}
