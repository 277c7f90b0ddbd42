import type { Charge } from './charge.ts';
import { compareText } from './compare-text.ts';
import { earlierSecondTaskDiscountKey, secondTaskDiscountKey } from './line-keys.ts';
import type { EarlierWork } from './pricing-inputs.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { whyInput, whyRounding } from './why.ts';
import { withDiscount } from './with-discount.ts';
import { dollarsText, percentText } from './words.ts';

/**
 * Takes the policy's share off the labor of every task but the dearest of the visit, each as a
 * line of its own. The dearest is the one with the highest labor amount; of equal ones, one that
 * an earlier document charged, then the first in canonical order stays whole (the total is the
 * same whichever it is). Labor that a rule made free can be neither: it is never the dearest of
 * charged work, and a share of nothing is no line.
 *
 * A change order may bring a dearer task than the one that an earlier document charged whole. The
 * earlier one has become a second task then, and its document stands: what it would have had off
 * is given on the line that took its place.
 */
export function discountSecondTasks(
  charges: readonly Charge[],
  share: string,
  earlierLabor: EarlierWork['labor'] = [],
): readonly Charge[] {
  const labor = charges.filter(({ line }) => line.kind === 'labor');
  const earlier = dearestEarlier(earlierLabor);
  const spared = dearestAbove(labor, earlier?.amountCents ?? -1);
  const second = new Set(labor.filter((charge) => charge !== spared));
  return charges.map((charge) => {
    if (second.has(charge)) return discounted(charge, share);
    if (charge === spared && earlier !== undefined) return tookPlace(charge, earlier, share);
    return charge;
  });
}

type EarlierLabor = EarlierWork['labor'][number];

function dearestAbove(labor: readonly Charge[], limitCents: number): Charge | undefined {
  let dearest: Charge | undefined;
  for (const charge of labor) {
    if (charge.line.amountCents > (dearest?.line.amountCents ?? limitCents)) dearest = charge;
  }
  return dearest;
}

/** Of equal ones the first by name, so that the order in which they are given changes nothing. */
export function dearestEarlier(labor: EarlierWork['labor']): EarlierLabor | undefined {
  const [dearest] = labor.toSorted(
    (a, b) => b.amountCents - a.amountCents || compareText(a.taskName, b.taskName),
  );
  return dearest;
}

function discounted(charge: Charge, share: string): Charge {
  const { line } = charge;
  const exact = multiply(wholeRatio(line.amountCents), ratioOf(share));
  const offCents = roundHalfUpToCents(exact);
  const percent = percentText(share);
  return withDiscount(charge, {
    offCents,
    key: secondTaskDiscountKey(line.key),
    code: 'second_task',
    description: `Second task of the same visit: ${line.description}`,
    why: {
      sentence: `${percent} off the labor of a second task: ${percent} of ${dollarsText(line.amountCents)} = ${dollarsText(offCents)}.`,
      steps: [
        whyRounding('share of the labor', exact, offCents, [
          whyInput('second-task discount', share, 'ratio'),
          whyInput('labor', line.amountCents, 'cents'),
        ]),
      ],
      owner: [],
    },
  });
}

function tookPlace(charge: Charge, earlier: EarlierLabor, share: string): Charge {
  const exact = multiply(wholeRatio(earlier.amountCents), ratioOf(share));
  const offCents = roundHalfUpToCents(exact);
  const percent = percentText(share);
  const labor = dollarsText(earlier.amountCents);
  return withDiscount(charge, {
    offCents,
    key: earlierSecondTaskDiscountKey(charge.line.key),
    code: 'earlier_second_task_discount',
    description: `Now a second task of the same visit: ${earlier.taskName}`,
    why: {
      sentence: `${earlier.taskName} was the dearest task of this visit before, charged in full at ${labor} of labor; it is a second task now: ${percent} of ${labor} = ${dollarsText(offCents)}.`,
      steps: [
        whyRounding('share of the labor charged before', exact, offCents, [
          whyInput('second-task discount', share, 'ratio'),
          whyInput(`labor charged before: ${earlier.taskName}`, earlier.amountCents, 'cents'),
        ]),
      ],
      owner: [],
    },
  });
}
