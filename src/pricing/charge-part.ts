import { type Cents, cents } from './cents.ts';
import { type Charge, plainCharge } from './charge.ts';
import { partKey } from './line-keys.ts';
import type { PartPricer } from './part-price.ts';
import type { PartUse, WorkItem } from './pricing-inputs.ts';
import { type Ratio, wholeRatio } from './ratio.ts';
import { materialsAreFixedBy, recallSentence } from './what-is-charged.ts';
import { type Why, type WhyStep, whyInput, whyStep } from './why.ts';
import { dollarsText } from './words.ts';

/** A part sold by the piece: unit price x quantity, or free by warranty or recall. */
export function chargePart(work: WorkItem, part: PartUse, pricePart: PartPricer): Charge {
  const isFree = work.recall || part.underManufacturerWarranty;
  const { unitPriceCents, why } = isFree ? freePart(work, part) : pricedPart(part, pricePart);
  return plainCharge({
    line: {
      key: partKey(work, part),
      kind: 'part',
      class: 'part',
      code: part.code,
      description: part.name,
      findingId: work.findingId,
      systemId: work.systemId,
      taskCode: work.taskCode,
      quantity: part.quantity,
      unitPriceCents,
      amountCents: cents(unitPriceCents * part.quantity),
      why,
    },
    taxClass: part.taxClass ?? 'part',
    fixedBy: materialsAreFixedBy(work, isFree),
    floor: costOfPart(part),
  });
}

/** What the pieces cost the company. */
export function costOfPart(part: PartUse): Ratio {
  return { numerator: BigInt(part.unitCostCents) * BigInt(part.quantity), denominator: 1n };
}

/** The same with its reasons; for the owner's eyes. */
export function explainCostOfPart(part: PartUse): WhyStep {
  return whyStep('cost of the parts', costOfPart(part), 'cents', [
    whyInput('unit cost', part.unitCostCents, 'cents'),
    whyInput('quantity', part.quantity, 'count'),
  ]);
}

interface PricedPart {
  readonly unitPriceCents: Cents;
  readonly why: Why;
}

const warrantySentence = 'No charge: the part is under the manufacturer’s warranty.';

function pricedPart(part: PartUse, pricePart: PartPricer): PricedPart {
  const { unitPriceCents, why: unitPriceWhy } = pricePart(part.unitCostCents);
  const amountCents = cents(unitPriceCents * part.quantity);
  const each = dollarsText(unitPriceCents);
  return {
    unitPriceCents,
    why: {
      sentence:
        part.quantity === 1
          ? `One at ${each}.`
          : `${part.quantity} x ${each} each = ${dollarsText(amountCents)}.`,
      steps: [
        whyStep('quantity x unit price', wholeRatio(amountCents), 'cents', [
          whyInput('quantity', part.quantity, 'count'),
          whyInput('unit price', unitPriceCents, 'cents'),
        ]),
      ],
      owner: [unitPriceWhy, explainCostOfPart(part)],
    },
  };
}

function freePart(work: WorkItem, part: PartUse): PricedPart {
  return {
    unitPriceCents: cents(0),
    why: {
      sentence: work.recall ? recallSentence : warrantySentence,
      steps: [whyInput('quantity', part.quantity, 'count')],
      owner: [explainCostOfPart(part)],
    },
  };
}
