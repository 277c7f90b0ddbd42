import { type Cents, cents } from './cents.ts';
import { type Charge, plainCharge } from './charge.ts';
import { explainExtendedCost, extendedCost } from './extended-cost.ts';
import type { GoodsPricer } from './goods-price.ts';
import { goodKey } from './line-keys.ts';
import type { GoodsUse, WorkItem } from './pricing-inputs.ts';
import { materialsAreFixedBy, recallSentence } from './what-is-charged.ts';
import { type Why, whyInput } from './why.ts';
import { dollarsText, measuredText } from './words.ts';

/**
 * Goods sold by weight, length or volume: one price for the whole quantity, or free by recall.
 * The customer sees how much it was and what it comes to; packs and their cost are the owner's.
 */
export function chargeGood(work: WorkItem, good: GoodsUse, priceGood: GoodsPricer): Charge {
  const { amountCents, why } = work.recall ? freeGood(good) : pricedGood(good, priceGood);
  return plainCharge({
    line: {
      key: goodKey(work, good),
      kind: 'good',
      class: 'part',
      code: good.code,
      description: good.name,
      findingId: work.findingId,
      systemId: work.systemId,
      taskCode: work.taskCode,
      measured: good.quantity,
      unit: good.unit,
      amountCents,
      why,
    },
    taxClass: good.taxClass ?? 'part',
    fixedBy: materialsAreFixedBy(work, work.recall),
    floor: extendedCost(good),
  });
}

interface PricedGood {
  readonly amountCents: Cents;
  readonly why: Why;
}

function pricedGood(good: GoodsUse, priceGood: GoodsPricer): PricedGood {
  const { amountCents, why } = priceGood(good);
  return {
    amountCents,
    why: {
      sentence: `${measuredText(good.quantity, good.unit)} for ${dollarsText(amountCents)}.`,
      steps: [
        whyInput('quantity', good.quantity, good.unit),
        whyInput('extended price', amountCents, 'cents'),
      ],
      owner: [why],
    },
  };
}

function freeGood(good: GoodsUse): PricedGood {
  return {
    amountCents: cents(0),
    why: {
      sentence: recallSentence,
      steps: [whyInput('quantity', good.quantity, good.unit)],
      owner: [explainExtendedCost(good)],
    },
  };
}
