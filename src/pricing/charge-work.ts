import type { Charge } from './charge.ts';
import { chargeAccess } from './charge-access.ts';
import { chargeGood } from './charge-good.ts';
import { chargeLabor } from './charge-labor.ts';
import { chargePart } from './charge-part.ts';
import type { TimeCharger } from './charge-time.ts';
import { compareText } from './compare-text.ts';
import type { TimeCoster } from './cost-of-time.ts';
import type { GoodsPricer } from './goods-price.ts';
import type { PartPricer } from './part-price.ts';
import type { EarlierWork, WorkItem } from './pricing-inputs.ts';
import { standsOnPaper } from './what-is-charged.ts';

export interface WorkPricers {
  readonly costTime: TimeCoster;
  readonly priceTime: TimeCharger;
  readonly pricePart: PartPricer;
  readonly priceGood: GoodsPricer;
}

/**
 * The charges of an option's work in canonical order: by system, then task code, then finding id,
 * compared character by character. Each task gives its parts by code, its measured goods by code
 * and then its labor; a system's access lines follow its tasks, by group.
 */
export function chargeWork(
  work: readonly WorkItem[],
  pricers: WorkPricers,
  earlierAccess: EarlierWork['access'] = [],
): Charge[] {
  const ordered = work.toSorted(inCanonicalOrder);
  const charges: Charge[] = [];
  ordered.forEach((item, at) => {
    charges.push(...chargeTask(item, pricers));
    if (ordered[at + 1]?.systemId !== item.systemId) {
      charges.push(...chargeAccess(item.systemId, ordered, pricers.priceTime, earlierAccess));
    }
  });
  return charges;
}

function inCanonicalOrder(a: WorkItem, b: WorkItem): number {
  return (
    compareText(a.systemId, b.systemId) ||
    compareText(a.taskCode, b.taskCode) ||
    compareText(a.findingId, b.findingId)
  );
}

function chargeTask(work: WorkItem, pricers: WorkPricers): Charge[] {
  if (!standsOnPaper(work)) return [];
  const parts = work.parts.toSorted(byCode);
  const goods = (work.goods ?? []).toSorted(byCode);
  return [
    ...parts.map((part) => chargePart(work, part, pricers.pricePart)),
    ...goods.map((good) => chargeGood(work, good, pricers.priceGood)),
    chargeLabor(work, pricers),
  ];
}

function byCode(a: { readonly code: string }, b: { readonly code: string }): number {
  return compareText(a.code, b.code);
}
