import { causeSearch } from './cause-search.ts';
import type { Evidence } from './evidence.ts';
import { exclusionsMissing } from './exclusions-missing.ts';
import { type FaultCode, faults } from './faults/catalog.ts';
import type { RemedyClass } from './faults/remedy-classes.ts';

/**
 * What must still be done before a remedy may be charged, in words; empty when all is done: the
 * exclusions of its fault, and for tracing a cause the look for it that the visit fee includes.
 */
export function dueBefore(
  faultCode: FaultCode,
  remedyClass: RemedyClass,
  evidence: Evidence,
): string[] {
  const fault = faults[faultCode];
  const isLookedFor = causeSearch(faultCode, evidence.observations) === 'recorded';
  const search =
    remedyClass === 'diagnose' && fault.role === 'symptom' && !isLookedFor
      ? [
          `Looking for the cause is within the visit fee; record it first. ${fault.causeSearch.lookFor}`,
        ]
      : [];
  return [...exclusionsMissing(faultCode, evidence), ...search];
}
