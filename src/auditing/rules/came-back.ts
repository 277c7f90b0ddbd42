import type { EarlierRepair, JobFinding, JobVisit } from '../jobs/job-facts.ts';
import { millisecondsBetween } from './span-text.ts';

/**
 * Whether a finding is our own work come back: the same fault of the same system, mended before it
 * was found, with its labor warranted on that day, the last one included.
 * @param day the local day of the yes, of the finding where there was none
 */
export function cameBack(
  repair: EarlierRepair,
  finding: JobFinding,
  day: string,
  visits: readonly JobVisit[],
): boolean {
  return (
    repair.systemId === finding.systemId &&
    repair.faultCode === finding.faultCode &&
    wasMendedBefore(repair, finding, day, visits) &&
    repair.laborWarrantyUntil !== null &&
    repair.laborWarrantyUntil >= day
  );
}

/**
 * What mended this very finding is nothing that came back by it. Of the same visit only what was
 * recorded before the finding was mended before; of another one, what somebody arrived for earlier,
 * however late it was written down. Billing has it so, too (`src/visits/recalled-findings.ts`).
 */
export function wasMendedBefore(
  repair: EarlierRepair,
  { id, foundAt, visitId }: JobFinding,
  day: string,
  visits: readonly JobVisit[],
): boolean {
  const { doneAt, doneOn } = repair;
  if (repair.findingId === id) return false;
  const arrivedAt = visits.find((visit) => visit.id === visitId)?.arrivedAt ?? undefined;
  if (repair.visitId !== visitId && repair.arrivedAt !== undefined && arrivedAt !== undefined) {
    return isEarlierTrip(repair.arrivedAt, arrivedAt, (repair.visitId ?? '') < visitId);
  }
  return doneAt === undefined ? doneOn <= day : millisecondsBetween(doneAt, foundAt) > 0;
}

/** Two trips that arrive in one instant are in the order in which they were booked. */
function isEarlierTrip(one: string, other: string, wasBookedBefore: boolean): boolean {
  const between = millisecondsBetween(one, other);
  return between > 0 || (between === 0 && wasBookedBefore);
}
