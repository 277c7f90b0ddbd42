import { type Charge, computedCents } from './charge.ts';
import { agreementDiscountKey } from './line-keys.ts';
import type { Agreement } from './price-book.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type WhyNode, whyInput, whyRounding, whyStep } from './why.ts';
import { withDiscount } from './with-discount.ts';
import { chargeClassWords, dollarsText, percentText } from './words.ts';

/**
 * Takes the share that the customer's maintenance agreement gives on a class off every charge of
 * that class, the visit fee included, each as a line of its own. It is a share of what the
 * discounts before it have left.
 */
export function discountByAgreement(
  charges: readonly Charge[],
  agreement: Agreement | undefined,
): readonly Charge[] {
  if (agreement === undefined) return charges;
  return charges.map((charge) => {
    const share = agreement.discounts[charge.line.class];
    return share === undefined ? charge : discounted(charge, share, agreement);
  });
}

function discounted(charge: Charge, share: string, agreement: Agreement): Charge {
  const baseCents = computedCents(charge);
  const exact = multiply(wholeRatio(baseCents), ratioOf(share));
  const offCents = roundHalfUpToCents(exact);
  const percent = percentText(share);
  const amount = dollarsText(baseCents);
  const base = charge.discounts.length === 0 ? amount : `the ${amount} left`;
  return withDiscount(charge, {
    offCents,
    key: agreementDiscountKey(charge.line.key),
    code: 'agreement_discount',
    description: `${agreement.name}: ${charge.line.description}`,
    why: {
      sentence: `${percent} off the ${chargeClassWords[charge.line.class]} under the maintenance agreement ${agreement.name}: ${percent} of ${base} = ${dollarsText(offCents)}.`,
      steps: [
        whyRounding('share of the charge', exact, offCents, [
          whyInput(`discount of the agreement ${agreement.code}`, share, 'ratio'),
          baseNode(charge),
        ]),
      ],
      owner: [],
    },
  });
}

function baseNode(charge: Charge): WhyNode {
  const { line, discounts } = charge;
  const whole = whyInput('charge', line.amountCents, 'cents');
  if (discounts.length === 0) return whole;
  return whyStep('charge less its other discounts', wholeRatio(computedCents(charge)), 'cents', [
    whole,
    ...discounts.map((discount) => whyInput(discount.description, discount.amountCents, 'cents')),
  ]);
}
