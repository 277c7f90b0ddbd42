import type { BilledLine, ChargedLine } from '../../billing/index.ts';
import { addCents, type Cents, cents, dollarsText } from '../../pricing/index.ts';
import { remedyFor } from '../../trade/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { BillFacts, JobDocument, JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { ceilingCents } from './ceiling-cents.ts';
import { flaggedFor } from './flagged-for.ts';
import { isReset } from './is-reset.ts';
import { type Lowered, lowered, ofFindings } from './lowered.ts';

/**
 * Restoring a breaker, a fuse, a float switch, a disconnect, a thermostat is the visit fee and its
 * materials. What a remedy is comes from the catalog, never from what was stored with the finding:
 * a reset that somebody wrote down as a repair is found out here.
 */
export const resetBilledAsRepair: AuditRule<'reset_billed_as_repair'> = {
  code: 'reset_billed_as_repair',
  statement: 'A reset is charged at its materials only: no labor, no access.',
  severity: 'owed',
  source: 'Common practice, no source',
  judge: ({ documents, findings, bill }) => {
    const charged = documents.filter(chargesWork);
    const looks = charged.flatMap((document) => neededOnlyReset(document, bill));
    if (looks.length > 0) return flaggedBy(looks);
    if (charged.some(({ kind }) => kind === 'bill') && bill?.fair === undefined) {
      return cannotJudge('what_was_done');
    }
    if (charged.some(({ kind }) => kind !== 'bill') && findings === undefined) {
      return cannotJudge('findings');
    }
    return flaggedFor(
      charged.flatMap((document) =>
        document.kind === 'bill' ? overOnBill(document, bill) : overIn(document, findings ?? []),
      ),
    );
  },
};

/** A look and no amount: what was done may have been more than the bill says was found. */
function neededOnlyReset(document: JobDocument, bill: BillFacts | undefined): string[] {
  if (document.kind !== 'bill' || bill?.foundReset === undefined) return [];
  const { found, resetCents, tolerance } = bill.foundReset;
  const left = chargesOf(document).map(({ leftCents }) => leftCents);
  const chargedCents = addCents([...left, document.taxLeftCents]);
  if (chargedCents <= ceilingCents(resetCents, tolerance)) return [];
  return [
    `What was found, “${found}”, needs only a reset, which comes to ${dollarsText(resetCents)} by our price book. The bill charges ${dollarsText(chargedCents)} and names nothing else that was wrong: please look at what was done.`,
  ];
}

function chargesWork(document: JobDocument): boolean {
  return chargesOf(document).some(
    ({ line, leftCents }) => line.priceClass !== 'visit_fee' && leftCents > 0,
  );
}

function overIn(document: JobDocument, findings: readonly JobFinding[]): Lowered[] {
  const resets = new Set(findings.filter(isResetFinding).map(({ id }) => id));
  const known = new Set(findings.map(({ id }) => id));
  return chargesOf(document).flatMap((charge) => {
    // Of a finding that the job does not have another rule speaks.
    const ids = charge.line.findingIds.filter((id) => known.has(id));
    if (ids.length === 0 || !ids.every((id) => resets.has(id))) return [];
    return charge.line.priceClass === 'part'
      ? raisedMaterial(document, charge)
      : chargedTime(document, charge);
  });
}

function isResetFinding({ faultCode, taskCode }: JobFinding): boolean {
  return remedyFor(faultCode, taskCode)?.remedyClass === 'reset';
}

function chargedTime(document: JobDocument, { line, leftCents }: ChargedLine): Lowered[] {
  if (leftCents <= 0) return [];
  const why =
    line.priceClass === 'access'
      ? 'serves a reset alone, which carries no access'
      : 'is a reset, which carries no labor';
  const sentence = `${line.description} ${why}: ${document.title} charges ${dollarsText(leftCents)} for it.`;
  return [lowered(document, line.key, cents(0), sentence, ofFindings(line.findingIds))];
}

/** Nobody, the owner included, may raise what the material of a reset comes to. */
function raisedMaterial(document: JobDocument, { line, leftCents }: ChargedLine): Lowered[] {
  const byHand = document.lines.filter(
    ({ kind, aimedAt }) => kind === 'adjustment' && aimedAt === line.key,
  );
  const raisedCents = addCents(byHand.map(({ amountCents }) => amountCents));
  const before = document.credited.filter(({ key }) => key === line.key);
  const stillCents = raisedCents - addCents(before.map(({ amountCents }) => amountCents));
  if (stillCents <= 0 || leftCents <= 0) return [];
  const toCents = cents(Math.max(0, leftCents - stillCents));
  const sentence = `${line.description} belongs to a reset, whose material nobody may raise: ${dollarsText(raisedCents)} was added by hand on ${document.title}.`;
  return [lowered(document, line.key, toCents, sentence)];
}

/** A bill whose work was all resets comes to what our price for them does, without labor. */
function overOnBill(document: JobDocument, bill: BillFacts | undefined): Lowered[] {
  const fair = bill?.fair;
  if (fair === undefined || fair.taskCodes.length === 0) return [];
  if (!fair.taskCodes.every(isReset)) return [];
  const charges = chargesOf(document).filter(({ leftCents }) => leftCents > 0);
  // Labor goes back by itself, so nothing of it stands beside the lump.
  const told = charges.filter(({ line }) => !isLabor(line) && line.priceClass !== 'lump');
  const toldCents = addCents(told.map(({ leftCents }) => leftCents));
  return charges.flatMap((charge) => {
    const { line } = charge;
    if (isLabor(line)) {
      const sentence = `A reset carries no labor: ${document.title} charges ${dollarsText(charge.leftCents)} for it.`;
      return [lowered(document, line.key, cents(0), sentence)];
    }
    if (line.priceClass !== 'lump') return [];
    // A tax that is told stands beside these charges, and one that is not stands in the lump.
    const ownTaxCents = isTaxTold(document) ? fair.option.taxCents : cents(0);
    const restCents = cents(fair.option.totalCents - ownTaxCents - toldCents);
    return overInLump(document, charge, restCents);
  });
}

function isTaxTold({ lines, taxLeftCents }: JobDocument): boolean {
  return taxLeftCents > 0 || lines.some(({ kind }) => kind === 'tax');
}

/** What a bill tells of labor has the way in with it. */
function isLabor({ priceClass }: BilledLine): boolean {
  return priceClass === 'labor';
}

function overInLump(
  document: JobDocument,
  { line, leftCents }: ChargedLine,
  restCents: Cents,
): Lowered[] {
  const toCents = cents(Math.max(0, restCents));
  if (leftCents <= toCents) return [];
  const sentence = `What ${document.title} names was a reset, the visit fee and its materials: ${dollarsText(leftCents)} would have come to ${dollarsText(toCents)}.`;
  return [lowered(document, line.key, toCents, sentence)];
}
