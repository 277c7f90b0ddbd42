import type { BilledLine, ChargedLine } from '../../billing/index.ts';
import { cents, dollarsText, visitFeeKey } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { dayOfYes } from '../jobs/day-of-yes.ts';
import type {
  EarlierRepair,
  JobDocument,
  JobFacts,
  JobFinding,
  JobVisit,
} from '../jobs/job-facts.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { cameBack } from './came-back.ts';
import { dayText } from './day-text.ts';
import { flaggedFor } from './flagged-for.ts';
import { feeNotOwed, type Lowered, lowered } from './lowered.ts';

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
    const back = documents.flatMap((document) =>
      comeBack(
        document,
        recalledOn(document, { findings, visits, earlierRepairs }),
        findings,
        visits,
      ),
    );
    return flaggedFor(
      back.filter(({ leftCents }) => leftCents > 0).map(loweredToNothing),
      back
        .filter(isFeeWithoutRest)
        .map(({ document, repair }) => feeNotOwed(document, ofTicket(repair))),
    );
  },
};

function chargesAnything(document: JobDocument): boolean {
  return chargesOf(document).some(({ leftCents }) => leftCents > 0);
}

/** The findings by which our own work came back, each with the repairs before, the last one first. */
type Recalled = ReadonlyMap<string, readonly EarlierRepair[]>;

type Known = Required<Pick<JobFacts, 'findings' | 'visits' | 'earlierRepairs'>>;

function recalledOn(document: JobDocument, { findings, visits, earlierRepairs }: Known): Recalled {
  const recalled = new Map<string, readonly EarlierRepair[]>();
  for (const finding of findings) {
    const day = dayOfYes(document) ?? finding.foundOn;
    const before = earlierRepairs
      .filter((repair) => cameBack(repair, finding, day, visits))
      .toSorted(lastFirst);
    if (before.length > 0) recalled.set(finding.id, before);
  }
  return recalled;
}

function lastFirst(one: EarlierRepair, other: EarlierRepair): number {
  const [first, second] = [one, other].map(({ doneAt, doneOn }) => doneAt ?? doneOn);
  if (first === second) return other.ticketNumber - one.ticketNumber;
  return (first ?? '') < (second ?? '') ? 1 : -1;
}

/** A charge for our own work that came back. */
interface ComeBack extends ChargedLine {
  readonly document: JobDocument;
  readonly repair: EarlierRepair;
}

function comeBack(
  document: JobDocument,
  recalled: Recalled,
  findings: readonly JobFinding[],
  visits: readonly JobVisit[],
): ComeBack[] {
  if (recalled.size === 0) return [];
  return chargesOf(document).flatMap((charge) => {
    const repair =
      charge.line.key === visitFeeKey
        ? repairOfTrip(document, recalled, findings, visits)
        : repairBefore(charge.line, recalled);
    return repair === undefined ? [] : [{ ...charge, document, repair }];
  });
}

function loweredToNothing({ document, line, leftCents, repair }: ComeBack): Lowered {
  const { ticketNumber, laborWarrantyUntil, doneOn } = repair;
  const until = dayText(laborWarrantyUntil ?? doneOn);
  const sentence = `${line.description}, ${dollarsText(leftCents)} on ${document.title}, is for our own work of ticket ${ticketNumber} come back, whose labor is warranted until ${until}.`;
  const because = ofTicket(repair);
  if (line.key === visitFeeKey) return { sentence, correction: feeNotOwed(document, because) };
  return lowered(document, line.key, cents(0), sentence, because);
}

function ofTicket({ ticketNumber }: EarlierRepair): string[] {
  return [`ticket ${ticketNumber}`];
}

function isFeeWithoutRest({ line, leftCents }: ComeBack): boolean {
  return line.key === visitFeeKey && line.amountCents > 0 && leftCents <= 0;
}

/** Work is free when any fault that it mends came back; the way in when all who need it did. */
function repairBefore(
  { kind, findingIds }: Pick<BilledLine, 'kind' | 'findingIds'>,
  recalled: Recalled,
): EarlierRepair | undefined {
  const isShared = kind === 'access' && !findingIds.every((id) => recalled.has(id));
  if (isShared) return undefined;
  return findingIds.flatMap((id) => recalled.get(id) ?? []).toSorted(lastFirst)[0];
}

/**
 * The repair that a trip was made for. What was mended and found again at one visit is no reason for
 * that visit. A fee without a quote does not name its trip, so every trip with a fee has to be for
 * our own work.
 */
function repairOfTrip(
  { kind, lines }: JobDocument,
  recalled: Recalled,
  findings: readonly JobFinding[],
  visits: readonly JobVisit[],
): EarlierRepair | undefined {
  const repairsOf = (visitId: string) =>
    findings
      .filter((finding) => finding.visitId === visitId)
      .flatMap(({ id }) => recalled.get(id) ?? [])
      .filter((repair) => repair.visitId !== visitId);
  const sold = findings.filter(({ id }) => lines.some((line) => line.findingIds.includes(id)));
  const trips =
    kind === 'visit_fee'
      ? visits.filter(({ feeCents }) => feeCents > 0).map(({ id }) => id)
      : sold.map(({ visitId }) => visitId);
  const repairs = [...new Set(trips)].map(repairsOf);
  const isForOurOwn =
    kind === 'visit_fee'
      ? repairs.every(({ length }) => length > 0)
      : repairs.some(({ length }) => length > 0);
  return isForOurOwn ? repairs.flat().toSorted(lastFirst)[0] : undefined;
}
