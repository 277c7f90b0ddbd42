import { addCents, type Cents, cents } from './cents.ts';
import { type Charge, netCents, type Unplaced } from './charge.ts';
import { largestAtMost } from './largest-at-most.ts';
import { visitFeeCreditKey, visitFeeKey } from './line-keys.ts';
import type { TaxRule } from './price-book.ts';
import type { CreditLine, Stated } from './priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { taxCentsOn, taxSteps } from './tax-on-charges.ts';
import { type Why, type WhyNode, type WhyStep, whyInput, whyRounding, whyStep } from './why.ts';
import { dollarsText, percentText } from './words.ts';

/**
 * Gives part of the visit fee back because work was accepted: the smallest of
 *
 * 1. the policy's share of the fee that stands after adjustments, rounded;
 * 2. the charged labor and access after discounts and adjustments;
 * 3. the largest credit with which accepting still totals no less than declining.
 *
 * The third is what the second is for, and nearly always follows from it. It does not when the fee
 * is taxed and labor is not: a fee of 89.00, 89.00 of labor and 8 % on fees would cost 96.12 to
 * decline and, with 89.00 credited, 89.00 to accept. Nor when tax is rounded line by line. So the
 * credit is lowered by those few cents or dollars; try one cent more and accepting is cheaper.
 */
export function creditVisitFee(
  charges: readonly Charge[],
  share: string,
  tax: TaxRule,
  stated: Stated,
  declineTotalCents: Cents,
): readonly Charge[] {
  const fee = charges.find(({ line }) => line.key === visitFeeKey);
  if (fee === undefined) return charges;
  const feeCents = netCents(fee);
  const exactShare = multiply(wholeRatio(feeCents), ratioOf(share));
  const shareCents = roundHalfUpToCents(exactShare);
  const timeCents = laborAndAccessCents(charges);
  const wishedCents = cents(Math.min(shareCents, timeCents));
  if (wishedCents === 0) return charges;

  const credited = (credit: Unplaced<CreditLine>): readonly Charge[] =>
    charges.map((charge) => (charge === fee ? { ...fee, credits: [credit] } : charge));
  const tried = (creditCents: number) => credited(creditLine(cents(creditCents), emptyWhy));
  const total = (creditCents: number): Cents => {
    const left = tried(creditCents);
    return cents(addCents(left.map(netCents)) + taxCentsOn(left, tax, stated));
  };
  const creditCents = largestAtMost(
    wishedCents,
    (creditCents) => total(creditCents) >= declineTotalCents,
  );
  if (creditCents === 0) return charges;

  const explainTotal: ExplainTotal = (name, amountCents) =>
    whyStep(name, wholeRatio(total(amountCents)), 'cents', [
      whyInput('charges before the credit', addCents(charges.map(netCents)), 'cents'),
      whyInput('credit', -amountCents, 'cents'),
      ...taxSteps(tried(amountCents), tax, stated),
    ]);
  const limits: WhyNode[] = [
    whyRounding('share of the visit fee', exactShare, shareCents, [
      whyInput('share credited on acceptance', share, 'ratio'),
      whyInput('visit fee', feeCents, 'cents'),
    ]),
    whyInput('labor and access charged', timeCents, 'cents'),
  ];
  const steps: WhyNode[] = [whyInput('total when declined', declineTotalCents, 'cents')];
  if (creditCents < wishedCents) {
    steps.push(...explainLowering(wishedCents, creditCents, explainTotal));
    limits.push(whyInput('largest with which accepting totals no less', creditCents, 'cents'));
  }
  steps.push(whyStep('credit given', wholeRatio(creditCents), 'cents', limits));
  const sentence = creditSentence({ share, feeCents, shareCents, timeCents, creditCents });
  return credited(creditLine(creditCents, { sentence, steps, owner: [] }));
}

type ExplainTotal = (name: string, creditCents: number) => WhyStep;

/** Three totals to hold against that of declining: too much credited, one cent too much, as given. */
function explainLowering(
  wishedCents: Cents,
  creditCents: Cents,
  explainTotal: ExplainTotal,
): WhyNode[] {
  return [
    explainTotal('total when accepted with the smaller of both credited', wishedCents),
    explainTotal('total when accepted with a cent more than given', creditCents + 1),
    explainTotal('total when accepted with the credit given', creditCents),
  ];
}

const emptyWhy: Why = { sentence: '', steps: [], owner: [] };

function laborAndAccessCents(charges: readonly Charge[]): Cents {
  return addCents(
    charges.filter(({ line }) => line.class === 'labor' || line.class === 'access').map(netCents),
  );
}

function creditLine(creditCents: Cents, why: Why): Unplaced<CreditLine> {
  return {
    key: visitFeeCreditKey,
    kind: 'credit',
    class: 'visit_fee',
    aimedAt: visitFeeKey,
    code: 'visit_fee_credit',
    description: 'Visit fee credited on acceptance',
    amountCents: cents(-creditCents),
    why,
  };
}

function creditSentence(credit: {
  share: string;
  feeCents: Cents;
  shareCents: Cents;
  timeCents: Cents;
  creditCents: Cents;
}): string {
  const amount = dollarsText(credit.creditCents);
  const wish = `${percentText(credit.share)} of the visit fee of ${dollarsText(credit.feeCents)} is credited`;
  if (credit.creditCents === credit.shareCents) return `${wish} when work is accepted: ${amount}.`;
  if (credit.creditCents === credit.timeCents) {
    return `${wish} when work is accepted, up to the labor and access charged: ${amount}.`;
  }
  return `${wish} when work is accepted, as far as accepting does not total less than declining: ${amount}.`;
}
