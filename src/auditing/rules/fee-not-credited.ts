import { type Cents, cents, dollarsText, visitFeeKey } from '../../pricing/index.ts';
import { billedTogether } from '../jobs/billed-together.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { type Fee, feeOf, yesBeside } from '../jobs/fee-of.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
import { timeOf } from '../jobs/time-of.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered } from './lowered.ts';

/**
 * A yes credits the policy's share of the visit fee, at most the labor and access that stay charged,
 * and never so much that repairing would total less than declining: as the engine has it, under the
 * policy in force where that is known. Where work was left undone, billing cut the credit by the same
 * law, and the cut stands.
 */
export const feeNotCredited: AuditRule<'fee_not_credited'> = {
  code: 'fee_not_credited',
  statement: 'A yes credits the visit fee as far as the policy says.',
  severity: 'owed',
  source: 'Common practice, no source; the share is the company’s own policy',
  judge: ({ documents }, prices) => {
    const visits = billedTogether(documents).map((visit) => ({
      visit,
      charged: visit.filter((document) => isCreditable(document, visit)),
    }));
    const priced = visits.flatMap(({ visit, charged }) =>
      charged.map((document) => yesBeside(document, visit) ?? document),
    );
    if (priced.length === 0) return clear;
    if (!priced.every((document) => prices.stored(document))) return cannotJudge('price_inputs');
    return flaggedFor(visits.flatMap(({ visit, charged }) => uncredited(visit, charged, prices)));
  },
};

/** A fee of which something is left, and that a yes was said beside. */
function isCreditable(document: JobDocument, visit: readonly JobDocument[]): boolean {
  const fee = chargesOf(document).find(({ line }) => line.priceClass === 'visit_fee');
  if (fee === undefined || fee.leftCents <= 0) return false;
  return document.kind !== 'visit_fee' || yesBeside(document, visit) !== undefined;
}

/** The labor and access of a visit are credited against once, however many fees it was billed. */
function uncredited(
  visit: readonly JobDocument[],
  charged: readonly JobDocument[],
  prices: JobPrices,
): Lowered[] {
  const time = visit.flatMap(timeOf);
  let restCents = time.reduce((sum, { leftCents }) => sum + leftCents, 0);
  return charged.flatMap((document) => {
    const fee = feeOf(document, visit, prices);
    if (fee === undefined || wasCut(document)) return [];
    const dueCents = cents(Math.min(fee.dueCents, restCents));
    restCents -= Math.max(dueCents, fee.creditedCents);
    return fee.creditedCents >= dueCents ? [] : [creditedTo(fee, dueCents, visit)];
  });
}

function wasCut({ credited }: JobDocument): boolean {
  return credited.some(({ key, amountCents }) => key === visitFeeKey && amountCents < 0);
}

function creditedTo(
  { document, charge, creditedCents }: Fee,
  dueCents: Cents,
  visit: readonly JobDocument[],
): Lowered {
  const { title } = yesBeside(document, visit) ?? document;
  const sentence = `The yes to ${title} credits ${dollarsText(dueCents)} of the visit fee; ${dollarsText(creditedCents)} was credited.`;
  const toCents = cents(Math.max(0, charge.leftCents - (dueCents - creditedCents)));
  const { correction } = lowered(document, visitFeeKey, toCents, sentence);
  return { sentence, correction: { ...correction, asFeeCredit: true } };
}
