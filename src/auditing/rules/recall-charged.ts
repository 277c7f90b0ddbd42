import { cents, dollarsText, visitFeeKey } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { dayOfYes } from '../jobs/day-of-yes.ts';
import type { EarlierRepair, JobDocument, JobFinding, JobVisit } from '../jobs/job-facts.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { dayText } from './day-text.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered } from './lowered.ts';
import { millisecondsBetween } from './span-text.ts';

/**
 * The same fault of the same system that we mended, come back while its labor is warranted, is mended
 * again at no charge, and nobody pays a fee for the trip. What a new fault needs too stays charged.
 */
export const recallCharged: AuditRule<'recall_charged'> = {
  code: 'recall_charged',
  statement: 'Our own work that comes back under its labor warranty is mended at no charge.',
  severity: 'owed',
  source: 'Common practice, no source; for how long is the company’s own policy',
  judge: ({ documents, findings, visits = [], earlierRepairs }) => {
    if (!documents.some(chargesAnything)) return clear;
    if (findings === undefined || earlierRepairs === undefined) {
      return cannotJudge(
        ...(findings === undefined ? (['findings'] as const) : []),
        ...(earlierRepairs === undefined ? (['earlier_repairs'] as const) : []),
      );
    }
    return flaggedFor(
      documents.flatMap((document) => {
        const back = recalledOn(document, findings, earlierRepairs);
        return back.size === 0 ? [] : chargedAgain(document, back, findings, visits);
      }),
    );
  },
};

function chargesAnything(document: JobDocument): boolean {
  return chargesOf(document).some(({ leftCents }) => leftCents > 0);
}

/** The findings by which our own work came back, each with the repair before. */
function recalledOn(
  document: JobDocument,
  findings: readonly JobFinding[],
  repairs: readonly EarlierRepair[],
): ReadonlyMap<string, EarlierRepair> {
  const recalled = new Map<string, EarlierRepair>();
  for (const finding of findings) {
    const day = dayOfYes(document) ?? finding.foundOn;
    const repair = repairs.find(
      (before) =>
        before.systemId === finding.systemId &&
        before.faultCode === finding.faultCode &&
        isBefore(before, finding, day) &&
        before.laborWarrantyUntil !== null &&
        before.laborWarrantyUntil >= day,
    );
    if (repair !== undefined) recalled.set(finding.id, repair);
  }
  return recalled;
}

/** What mended this very finding, or was done after it was found, is nothing that came back by it. */
function isBefore(
  { findingId, doneAt, doneOn }: EarlierRepair,
  { id, foundAt }: JobFinding,
  day: string,
): boolean {
  if (findingId === id) return false;
  return doneAt === undefined ? doneOn <= day : millisecondsBetween(doneAt, foundAt) > 0;
}

function chargedAgain(
  document: JobDocument,
  recalled: ReadonlyMap<string, EarlierRepair>,
  findings: readonly JobFinding[],
  visits: readonly JobVisit[],
): Lowered[] {
  const [repair] = recalled.values();
  return chargesOf(document).flatMap(({ line, leftCents }) => {
    const isOwn =
      line.key === visitFeeKey
        ? isTripForOurOwn(document, recalled, findings, visits)
        : isMendedAgain(line.findingIds, line.kind, recalled);
    if (!isOwn || leftCents <= 0 || repair === undefined) return [];
    const { ticketNumber, laborWarrantyUntil } = repair;
    const until = dayText(laborWarrantyUntil ?? repair.doneOn);
    const sentence = `${line.description}, ${dollarsText(leftCents)} on ${document.title}, is for our own work of ticket ${ticketNumber} come back, whose labor is warranted until ${until}.`;
    return [lowered(document, line.key, cents(0), sentence)];
  });
}

/** Work is free when any fault that it mends came back; the way in when all who need it did. */
function isMendedAgain(
  findingIds: readonly string[],
  kind: string,
  recalled: ReadonlyMap<string, EarlierRepair>,
): boolean {
  if (findingIds.length === 0) return false;
  return kind === 'access'
    ? findingIds.every((id) => recalled.has(id))
    : findingIds.some((id) => recalled.has(id));
}

/** A fee without a quote does not name its trip, so every trip with a fee has to be for our own work. */
function isTripForOurOwn(
  { kind, lines }: JobDocument,
  recalled: ReadonlyMap<string, EarlierRepair>,
  findings: readonly JobFinding[],
  visits: readonly JobVisit[],
): boolean {
  const back = findings.filter(({ id }) => recalled.has(id));
  if (kind !== 'visit_fee') {
    const sold = findings.filter(({ id }) => lines.some((line) => line.findingIds.includes(id)));
    return sold.some(({ visitId }) => back.some((finding) => finding.visitId === visitId));
  }
  const trips = visits.filter(({ feeCents }) => feeCents > 0);
  return trips.length > 0 && trips.every(({ id }) => back.some(({ visitId }) => visitId === id));
}
