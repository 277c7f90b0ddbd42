import type { ChargedLine } from '../../billing/index.ts';
import { type Cents, cents, dollarsText, visitFeeKey } from '../../pricing/index.ts';
import { adjustedByHand } from '../jobs/adjusted-by-hand.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument, JobFacts } from '../jobs/job-facts.ts';
import { leftBeforeFeeCredit } from '../jobs/left-before-fee-credit.ts';
import type { JobPrices, PricedDocument } from '../jobs/prices-of.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { ceilingCents } from './ceiling-cents.ts';
import { type Lowered, lowered } from './lowered.ts';
import { type OverFairPrice, overFairPrice } from './over-fair-price.ts';

/**
 * A charge with what is adjusted on it stays within the fair band: at most what it computes to by
 * what is stored with it, and the policy's tolerance. What the owner adjusted is inside; the fee was
 * told, so its ceiling is that one amount. Whether the stored figures are the book's is another rule.
 */
export const aboveCeiling: AuditRule<'above_ceiling'> = {
  code: 'above_ceiling',
  statement: 'No charge is above its computed price and the tolerance, unless the owner said so.',
  severity: 'owed',
  source: 'Common practice, no source; the tolerance is the company’s own policy',
  judge: (job, prices) => {
    const missing = missingOf(job, prices);
    if (missing !== undefined) return cannotJudge(missing);
    if (job.documents.length === 0) return clear;
    const over = job.documents.flatMap((document) => {
      const fair = document.kind === 'bill' ? job.bill?.fair : undefined;
      if (fair !== undefined) return overFairPrice(document, fair) ?? [];
      const priced = prices.stored(document);
      return priced === undefined ? [] : overCeilings(document, priced).map(alone);
    });
    return flaggedBy(
      over.map(({ sentence }) => sentence),
      over.flatMap(({ corrections }) => corrections),
    );
  },
};

function alone({ sentence, correction }: Lowered): OverFairPrice {
  return { sentence, corrections: [correction] };
}

function missingOf({ documents, bill }: JobFacts, prices: JobPrices) {
  if (bill?.fair === undefined && documents.some(({ kind }) => kind === 'bill')) {
    return 'what_was_done';
  }
  const own = documents.filter(({ kind }) => kind !== 'bill');
  return own.every((document) => prices.stored(document)) ? undefined : 'price_inputs';
}

function overCeilings(document: JobDocument, priced: PricedDocument): Lowered[] {
  const byOwner = adjustedByHand(priced.inputs, ({ byOwner }) => byOwner);
  return chargesOf(document).flatMap((charge) => {
    const { key } = charge.line;
    const computed = priced.computedCents.get(key);
    // What was never priced has no ceiling; that it differs from the book is another rule's.
    if (computed === undefined || charge.leftCents <= 0) return [];
    const tolerance = key === visitFeeKey ? '0' : priced.inputs.policy.fairBandTolerance;
    const ceiling = ceilingCents(computed, tolerance) + (byOwner.get(key) ?? 0);
    return overCeiling(document, charge, computed, cents(Math.max(0, ceiling)));
  });
}

function overCeiling(
  document: JobDocument,
  { line, leftCents }: ChargedLine,
  computed: Cents,
  ceiling: Cents,
): Lowered[] {
  const chargedCents = leftBeforeFeeCredit(document, { line, leftCents });
  if (chargedCents <= ceiling) return [];
  const toCents = cents(Math.max(0, leftCents - (chargedCents - ceiling)));
  const sentence = `${line.description} is charged ${dollarsText(chargedCents)} on ${document.title}. It computes to ${dollarsText(computed)}, at most ${dollarsText(ceiling)} without the owner.`;
  return [lowered(document, line.key, toCents, sentence)];
}
