import type { EarlierRepair, JobFinding } from '../jobs/job-facts.ts';
import { millisecondsBetween } from './span-text.ts';

/**
 * Whether a finding is our own work come back: the same fault of the same system, mended before it
 * was found, with its labor warranted on that day, the last one included.
 * @param day the local day of the yes, of the finding where there was none
 */
export function cameBack(repair: EarlierRepair, finding: JobFinding, day: string): boolean {
  return (
    repair.systemId === finding.systemId &&
    repair.faultCode === finding.faultCode &&
    wasMendedBefore(repair, finding, day) &&
    repair.laborWarrantyUntil !== null &&
    repair.laborWarrantyUntil >= day
  );
}

/** What mended this very finding, or was done after it was found, is nothing that came back by it. */
export function wasMendedBefore(
  { findingId, doneAt, doneOn }: EarlierRepair,
  { id, foundAt }: JobFinding,
  day: string,
): boolean {
  if (findingId === id) return false;
  return doneAt === undefined ? doneOn <= day : millisecondsBetween(doneAt, foundAt) > 0;
}
