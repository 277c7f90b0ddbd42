import { cents } from './cents.ts';
import type { Charge, Unplaced } from './charge.ts';
import { secondTaskDiscountKey } from './line-keys.ts';
import type { DiscountLine } from './priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { whyInput, whyRounding } from './why.ts';
import { dollarsText, percentText } from './words.ts';

/**
 * Takes the policy's share off the labor of every task but the dearest of the visit, each as a
 * line of its own. The dearest is the one with the highest labor amount; of equal ones, the first
 * in canonical order stays whole (the total is the same whichever it is). Labor that a rule made
 * free can be neither: it is never the dearest of charged work, and a share of nothing is no line.
 */
export function discountSecondTasks(charges: readonly Charge[], share: string): Charge[] {
  const labor = charges.filter(({ line }) => line.kind === 'labor');
  const [first] = labor;
  if (first === undefined) return [...charges];
  const dearest = labor.reduce(
    (best, charge) => (charge.line.amountCents > best.line.amountCents ? charge : best),
    first,
  );
  const second = new Set(labor.filter((charge) => charge !== dearest));
  return charges.map((charge) => (second.has(charge) ? discounted(charge, share) : charge));
}

function discounted(charge: Charge, share: string): Charge {
  const discount = discountLine(charge, share);
  return discount.amountCents === 0 ? charge : { ...charge, discounts: [discount] };
}

function discountLine({ line }: Charge, share: string): Unplaced<DiscountLine> {
  const exact = multiply(wholeRatio(line.amountCents), ratioOf(share));
  const off = roundHalfUpToCents(exact);
  return {
    key: secondTaskDiscountKey(line.key),
    kind: 'discount',
    class: line.class,
    aimedAt: line.key,
    code: 'second_task',
    description: `Second task of the same visit: ${line.description}`,
    amountCents: cents(-off),
    why: {
      sentence: `${percentText(share)} off the labor of a second task: ${percentText(share)} of ${dollarsText(line.amountCents)} = ${dollarsText(off)}.`,
      steps: [
        whyRounding('share of the labor', exact, off, [
          whyInput('second-task discount', share, 'ratio'),
          whyInput('labor', line.amountCents, 'cents'),
        ]),
      ],
      owner: [],
    },
  };
}
