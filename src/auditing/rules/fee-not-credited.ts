import { cents, dollarsText, visitFeeKey } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
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
    const accepted = documents.filter(({ kind }) => kind !== 'visit_fee').filter(chargesFee);
    if (accepted.length === 0) return clear;
    if (!accepted.every((document) => prices.stored(document))) return cannotJudge('price_inputs');
    return flaggedFor(accepted.flatMap((document) => uncredited(document, prices)));
  },
};

function chargesFee(document: JobDocument): boolean {
  return chargesOf(document).some(
    ({ line, leftCents }) => line.priceClass === 'visit_fee' && leftCents > 0,
  );
}

function uncredited(document: JobDocument, prices: JobPrices): Lowered[] {
  const priced = prices.byBook(document) ?? prices.stored(document);
  const charges = chargesOf(document);
  const fee = charges.find(({ line }) => line.key === visitFeeKey);
  const before = document.credited.find(({ key }) => key === visitFeeKey)?.amountCents ?? 0;
  if (priced === undefined || fee === undefined || before < 0) return [];
  const timeCents = charges
    .filter(({ line: { priceClass } }) => priceClass === 'labor' || priceClass === 'access')
    .reduce((sum, { leftCents }) => sum + leftCents, 0);
  const dueCents = Math.min(priced.feeCreditCents, timeCents);
  const givenCents = creditedWithYes(document) + before;
  if (givenCents >= dueCents) return [];
  const toCents = cents(Math.max(0, fee.leftCents - (dueCents - givenCents)));
  const sentence = `The yes to ${document.title} credits ${dollarsText(dueCents)} of the visit fee; ${dollarsText(givenCents)} was credited.`;
  const { correction } = lowered(document, visitFeeKey, toCents, sentence);
  return [{ sentence, correction: { ...correction, asFeeCredit: true } }];
}

function creditedWithYes({ lines }: JobDocument): number {
  return lines
    .filter(({ kind, aimedAt }) => kind === 'credit' && aimedAt === visitFeeKey)
    .reduce((sum, { amountCents }) => sum - amountCents, 0);
}
