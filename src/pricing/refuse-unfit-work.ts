import { factorsRise } from './factors-rise.ts';
import type { PartTiers } from './price-book.ts';
import type { PricingRefusal } from './priced-quote.ts';
import type { OptionInputs, WorkItem } from './pricing-inputs.ts';

/**
 * One finding is remedied, and paid, once per option; one part or good of a task stands on one
 * line; goods that are measured need tiers under which more is never dearer per unit.
 */
export function refuseUnfitWork(
  option: OptionInputs,
  tiers: PartTiers,
  optionPointer: string,
): PricingRefusal[] {
  const refusals: PricingRefusal[] = [];
  const findingIds = new Set<string>();
  option.work.forEach((work, at) => {
    const pointer = `${optionPointer}/work/${at}`;
    for (const id of [work.findingId, ...(work.alsoFindingIds ?? [])]) {
      if (findingIds.has(id)) refusals.push(duplicateFinding(id, pointer));
      findingIds.add(id);
    }
    refusals.push(...refuseRepeatedGoods(work, pointer));
  });
  const hasGoods = option.work.some(({ goods = [] }) => goods.length > 0);
  if (hasGoods && factorsRise(tiers)) refusals.push(risingFactors);
  return refusals;
}

const risingFactors: PricingRefusal = {
  code: 'rising_factors_for_goods',
  message:
    'The factors of the price book rise with the cost, so measured goods could cost more per unit for buying more.',
  pointer: '/tiers',
};

function duplicateFinding(id: string, workPointer: string): PricingRefusal {
  return {
    code: 'duplicate_finding',
    message: `Finding '${id}' is already remedied by another task of this option.`,
    pointer: `${workPointer}/findingId`,
  };
}

/** A good may have neither the code of another good of its task nor that of a part. */
function refuseRepeatedGoods({ parts, goods = [] }: WorkItem, workPointer: string) {
  const refusals: PricingRefusal[] = [];
  const codes = new Set<string>();
  parts.forEach(({ code }, at) => {
    if (codes.has(code)) refusals.push(duplicatePart(code, `${workPointer}/parts/${at}/code`));
    codes.add(code);
  });
  goods.forEach(({ code }, at) => {
    if (codes.has(code)) refusals.push(duplicateGood(code, `${workPointer}/goods/${at}/code`));
    codes.add(code);
  });
  return refusals;
}

function duplicatePart(code: string, pointer: string): PricingRefusal {
  return {
    code: 'duplicate_part',
    message: `Part '${code}' stands twice in one task; raise its quantity instead.`,
    pointer,
  };
}

function duplicateGood(code: string, pointer: string): PricingRefusal {
  return {
    code: 'duplicate_good',
    message: `'${code}' stands twice in one task; raise its quantity instead.`,
    pointer,
  };
}
