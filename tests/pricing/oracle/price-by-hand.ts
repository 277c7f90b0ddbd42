import { costPerHour, extendedCost, tieredPrice } from './cost-by-hand.ts';
import type {
  HandAgreement,
  HandAnswer,
  HandChargeClass,
  HandEarlierWork,
  HandInputs,
  HandOption,
  HandOptionInput,
  HandStated,
  HandTaxClass,
  HandWork,
} from './hand-inputs.ts';
import {
  decimal,
  divide,
  halfUp,
  less,
  minus,
  plus,
  type Rational,
  rational,
  smaller,
  times,
  whole,
} from './rational.ts';

export type {
  HandAnswer,
  HandInputs,
  HandOption,
  HandOptionInput,
  HandWork,
} from './hand-inputs.ts';

/**
 * A second calculation of a quote, written from the product's pricing rules before the engine was.
 *
 * It and its three neighbors import only each other, use plain rationals and the slowest obvious
 * method everywhere, so that it and the engine can only agree by both being right. It knows no
 * sentences and no derivations: it answers with signed cents per line, the tax, the totals, or
 * the names of what it refuses.
 */
export function priceByHand(inputs: HandInputs): HandAnswer {
  const refusals = inputs.options.flatMap((option) => refusalsOfWork(option, inputs.tiers));
  if (refusals.length > 0) return { refusals: refusals.sort() };

  const rate = laborRate(inputs.rates);
  const declined = [feeItem(inputs)];
  discountByAgreement(declined, inputs.agreement);
  const declineCents = total(declined, inputs.tax, inputs.tax.mode);

  const options: HandOption[] = [];
  for (const option of inputs.options) {
    const priced = priceOption(inputs, option, rate, declineCents);
    if (Array.isArray(priced)) refusals.push(...priced);
    else options.push(priced);
  }
  if (refusals.length > 0) return { refusals: refusals.sort() };
  return { laborRateCents: Number(rate), declineTotalCents: Number(declineCents), options };
}

/**
 * What accepting an option would total, in cents, with so much of the fee credited: whatever the
 * rule on credits says.
 */
export function totalCreditedByHand(
  inputs: HandInputs,
  option: HandOptionInput,
  creditCents: number,
): number {
  const { fee, items } = itemsOfOption(inputs, option, laborRate(inputs.rates));
  const stated = statedAs(items, inputs.tax);
  fee.creditCents = BigInt(creditCents);
  return Number(total(items, inputs.tax, stated));
}

function laborRate(rates: HandInputs['rates']): bigint {
  return halfUp(divide(costPerHour(rates), minus(whole(1), decimal(rates.margin))));
}

/**
 * The tax a company owes itself on what it uses up under a lump sum, in cents, rounded once:
 * rate x cost of the option's parts and measured goods. Nothing where tax is stated to the
 * customer. A part under the manufacturer's warranty costs the company nothing; one replaced in
 * a recall does.
 */
export function companyUseTaxByHand(option: HandOptionInput, tax: HandInputs['tax']): number {
  if (tax.mode === 'separated') return 0;
  let cost = whole(0);
  for (const work of option.work) {
    if (work.remedyClass === 'advise') continue;
    for (const part of work.parts) {
      if (part.underManufacturerWarranty) continue;
      cost = plus(cost, whole(part.unitCostCents * part.quantity));
    }
    for (const good of work.goods ?? []) cost = plus(cost, extendedCost(good));
  }
  return Number(halfUp(times(decimal(tax.rate), cost)));
}

/** A charge with everything that is aimed at it. `free` marks a zero that a rule made. */
interface Item {
  key: string;
  class: HandChargeClass;
  taxClass: HandTaxClass;
  free: boolean;
  ofReset: boolean;
  cost: Rational;
  chargeCents: bigint;
  discounts: { rule: 'second_task' | 'earlier_second_task' | 'agreement'; cents: bigint }[];
  adjustedCents: bigint;
  creditCents: bigint;
}

function refusalsOfWork(option: HandOptionInput, tiers: HandInputs['tiers']): string[] {
  const refusals: string[] = [];
  const findings: string[] = [];
  for (const work of option.work) {
    for (const findingId of [work.findingId, ...(work.alsoFindingIds ?? [])]) {
      if (findings.includes(findingId)) refusals.push('duplicate_finding');
      findings.push(findingId);
    }
    const codes: string[] = [];
    for (const part of work.parts) {
      if (codes.includes(part.code)) refusals.push('duplicate_part');
      codes.push(part.code);
    }
    // A good may repeat neither an earlier good of its task nor any part of it.
    for (const good of work.goods ?? []) {
      if (codes.includes(good.code)) refusals.push('duplicate_good');
      codes.push(good.code);
    }
  }
  const hasGoods = option.work.some((work) => (work.goods ?? []).length > 0);
  if (hasGoods && factorsRise(tiers.steps)) refusals.push('rising_factors_for_goods');
  return refusals;
}

function factorsRise(steps: HandInputs['tiers']['steps']): boolean {
  return steps.some((step, at) => {
    const before = steps[at - 1];
    return before !== undefined && less(decimal(before.factor), decimal(step.factor));
  });
}

function priceOption(
  inputs: HandInputs,
  option: HandOptionInput,
  rate: bigint,
  declineCents: bigint,
): HandOption | string[] {
  const { fee, items, refusals } = itemsOfOption(inputs, option, rate);
  if (refusals.length > 0) return refusals;

  // Decided before the credit is known, because the credit in turn looks at the tax.
  const stated = statedAs(items, inputs.tax);
  creditFee(fee, items, inputs, stated, declineCents);

  const taxCents = taxOf(items, inputs.tax, stated);
  return {
    amounts: amountsOf(items, taxCents),
    stated,
    taxCents: Number(taxCents),
    totalCents: Number(total(items, inputs.tax, stated)),
  };
}

/** All that is charged, discounted and adjusted; nothing of the fee is credited yet. */
function itemsOfOption(inputs: HandInputs, option: HandOptionInput, rate: bigint) {
  const fee = feeItem(inputs);
  const items = [
    fee,
    ...option.work.flatMap((work) => itemsOfWork(work, inputs, rate)),
    ...accessItems(option.work, inputs, rate),
  ];
  discountSecondTasks(
    items,
    option.work,
    inputs.earlierWork,
    decimal(inputs.policy.secondTaskDiscount),
  );
  discountByAgreement(items, inputs.agreement);
  const refusals = adjust(items, option.adjustments, decimal(inputs.policy.fairBandTolerance));
  return { fee, items, refusals };
}

function feeItem(inputs: HandInputs): Item {
  const { visitFee } = inputs;
  return {
    ...emptyItem('visit_fee', 'visit_fee', 'visit_fee'),
    free: !visitFee.chargeable,
    chargeCents: visitFee.chargeable ? BigInt(visitFee.amountCents) : 0n,
  };
}

function itemsOfWork(work: HandWork, inputs: HandInputs, rate: bigint): Item[] {
  if (work.remedyClass === 'advise') return [];
  const task = `${work.findingId}:${work.taskCode}`;
  const ofReset = work.remedyClass === 'reset';
  const parts = work.parts.map((part): Item => {
    const free = work.recall || part.underManufacturerWarranty;
    const unit = free ? 0n : halfUp(tieredPrice(whole(part.unitCostCents), inputs.tiers));
    return {
      ...emptyItem(`part:${task}:${part.code}`, 'part', part.taxClass ?? 'part'),
      free,
      ofReset,
      cost: whole(part.unitCostCents * part.quantity),
      chargeCents: unit * BigInt(part.quantity),
    };
  });
  const goods = (work.goods ?? []).map((good): Item => {
    const cost = extendedCost(good);
    return {
      ...emptyItem(`good:${task}:${good.code}`, 'part', good.taxClass ?? 'part'),
      free: work.recall,
      ofReset,
      cost,
      chargeCents: work.recall ? 0n : halfUp(tieredPrice(cost, inputs.tiers)),
    };
  });
  const free = work.recall || ofReset;
  const labor: Item = {
    ...emptyItem(`labor:${task}`, 'labor', 'labor'),
    free,
    ofReset,
    cost: times(rational(BigInt(work.minutes), 60n), costPerHour(inputs.rates)),
    chargeCents: free ? 0n : timeCharge(work.minutes, rate, inputs.period.laborFactor),
  };
  return [...parts, ...goods, labor];
}

/**
 * Longest access minutes of the charged tasks of each system and group, once; on a change order
 * only what is longer than the same access already charged on the visit.
 */
function accessItems(work: HandWork[], inputs: HandInputs, rate: bigint): Item[] {
  const longest = new Map<string, number>();
  for (const item of work) {
    if (!isCharged(item)) continue;
    const key = accessKey(item);
    longest.set(key, Math.max(longest.get(key) ?? 0, item.accessMinutes));
  }
  return [...longest]
    .map(([key, minutes]) => {
      let paid = 0;
      for (const earlier of inputs.earlierWork?.access ?? []) {
        if (accessKey(earlier) === key) paid = Math.max(paid, earlier.minutes);
      }
      return [key, minutes - paid] as const;
    })
    .filter(([, minutes]) => minutes > 0)
    .map(([key, minutes]) => ({
      ...emptyItem(key, 'access', 'access'),
      cost: times(rational(BigInt(minutes), 60n), costPerHour(inputs.rates)),
      chargeCents: timeCharge(minutes, rate, inputs.period.laborFactor),
    }));
}

function accessKey({ systemId, accessGroup }: { systemId: string; accessGroup: string }): string {
  return `access:${systemId}:${accessGroup}`;
}

function isCharged(work: HandWork): boolean {
  return !work.recall && work.remedyClass !== 'reset' && work.remedyClass !== 'advise';
}

function timeCharge(minutes: number, rate: bigint, factor: string): bigint {
  return halfUp(times(times(rational(BigInt(minutes), 60n), whole(rate)), decimal(factor)));
}

/**
 * Every labor line of the visit but the dearest; of equal ones, an earlier document's is the
 * dearest, then the first in order of system, task, finding. Where a change order brings a dearer
 * one, the dearest until now has become a second task: what it would have had off is given on the
 * line that took its place, since the earlier document stands.
 */
function discountSecondTasks(
  items: Item[],
  work: HandWork[],
  earlierWork: HandEarlierWork | undefined,
  discount: Rational,
): void {
  const inOrder = [...work]
    .filter(isCharged)
    .sort(
      (a, b) =>
        compareText(a.systemId, b.systemId) ||
        compareText(a.taskCode, b.taskCode) ||
        compareText(a.findingId, b.findingId),
    )
    .map((item) => `labor:${item.findingId}:${item.taskCode}`)
    .flatMap((key) => items.filter((item) => item.key === key));

  let earlierCents = -1n;
  for (const { amountCents } of earlierWork?.labor ?? []) {
    if (BigInt(amountCents) > earlierCents) earlierCents = BigInt(amountCents);
  }
  let dearest: Item | undefined;
  let dearestCents = earlierCents;
  for (const item of inOrder) {
    if (item.chargeCents > dearestCents) {
      dearest = item;
      dearestCents = item.chargeCents;
    }
  }
  for (const item of inOrder) {
    if (item !== dearest) {
      const cents = halfUp(times(discount, whole(item.chargeCents)));
      item.discounts.push({ rule: 'second_task', cents });
    } else if (earlierCents > 0n) {
      const cents = halfUp(times(discount, whole(earlierCents)));
      item.discounts.push({ rule: 'earlier_second_task', cents });
    }
  }
}

/** The agreement's share of the line's class, on what the discounts before it have left. */
function discountByAgreement(items: Item[], agreement: HandAgreement | undefined): void {
  for (const item of items) {
    const share = decimal(agreement?.discounts[item.class] ?? '0');
    item.discounts.push({ rule: 'agreement', cents: halfUp(times(share, whole(net(item)))) });
  }
}

function adjust(
  items: Item[],
  adjustments: HandOptionInput['adjustments'],
  tolerance: Rational,
): string[] {
  const refusals: string[] = [];
  for (const adjustment of adjustments) {
    if (adjustment.reason.trim() === '') refusals.push('adjustment_without_reason');
    if (!items.some((item) => item.key === adjustment.aimedAt)) {
      refusals.push('unknown_adjustment_target');
    }
  }
  for (const item of items) {
    const aimed = adjustments.filter((adjustment) => adjustment.aimedAt === item.key);
    const computed = net(item);
    const all = aimed.reduce((sum, one) => sum + BigInt(one.amountCents), 0n);
    const others = aimed
      .filter((one) => !one.byOwner)
      .reduce((sum, one) => sum + BigInt(one.amountCents), 0n);
    if (item.free && all > 0n) refusals.push('free_line_charged');
    else if (item.class === 'visit_fee' && all > 0n) refusals.push('fee_raised');
    else if (item.ofReset && all > 0n) refusals.push('reset_raised');
    else if (computed + all < 0n) refusals.push('adjustment_below_zero');
    else if (!insideBand(item, computed, computed + others, tolerance)) {
      refusals.push('adjustment_outside_fair_band');
    }
    item.adjustedCents = all;
  }
  return refusals;
}

/**
 * Floor: the line's cost, or the computed price where the rules themselves went below cost.
 * Ceiling: computed price plus the tolerance. The visit fee is fixed by its disclosure.
 */
function insideBand(item: Item, computed: bigint, adjusted: bigint, tolerance: Rational): boolean {
  if (item.class === 'visit_fee') return adjusted === computed;
  const price = whole(computed);
  const floor = smaller(item.cost, price);
  const ceiling = times(price, plus(whole(1), tolerance));
  const value = whole(adjusted);
  return !less(value, floor) && !less(ceiling, value);
}

/** A lump sum whose parts, materials and equipment are more than the rule's share is separated. */
function statedAs(items: Item[], tax: HandInputs['tax']): HandStated {
  if (tax.mode === 'separated') return 'separated';
  if (tax.separateAboveShare === undefined) return 'lump_sum';
  const all = sumOfNet(items);
  const goods = sumOfNet(items.filter((item) => item.class === 'part'));
  const limit = times(decimal(tax.separateAboveShare), whole(all));
  return less(limit, whole(goods)) ? 'separated' : 'lump_sum';
}

/**
 * "Credit on acceptance = min(policy share x fee, charged labor and access after discounts), so
 * that repairing never totals less than declining": try every cent downward until it is so.
 */
function creditFee(
  fee: Item,
  items: Item[],
  inputs: HandInputs,
  stated: HandStated,
  declineCents: bigint,
): void {
  const laborAndAccess = sumOfNet(
    items.filter((item) => item.class === 'labor' || item.class === 'access'),
  );
  fee.creditCents = halfUp(times(decimal(inputs.policy.visitFeeCreditShare), whole(net(fee))));
  if (laborAndAccess < fee.creditCents) fee.creditCents = laborAndAccess;
  while (fee.creditCents > 0n && total(items, inputs.tax, stated) < declineCents) {
    fee.creditCents -= 1n;
  }
}

function taxOf(items: Item[], tax: HandInputs['tax'], stated: HandStated): bigint {
  if (stated === 'lump_sum') return 0n;
  const taxed = items.filter((item) => tax.taxableClasses.includes(item.taxClass));
  const rate = decimal(tax.rate);
  if (tax.basis === 'item') {
    return taxed.reduce((sum, item) => sum + halfUp(times(whole(net(item)), rate)), 0n);
  }
  return halfUp(times(whole(sumOfNet(taxed)), rate));
}

function total(items: Item[], tax: HandInputs['tax'], stated: HandStated): bigint {
  return sumOfNet(items) + taxOf(items, tax, stated);
}

function sumOfNet(items: Item[]): bigint {
  return items.reduce((sum, item) => sum + net(item), 0n);
}

function net(item: Item): bigint {
  const discountCents = item.discounts.reduce((sum, { cents }) => sum + cents, 0n);
  return item.chargeCents - discountCents + item.adjustedCents - item.creditCents;
}

function amountsOf(items: Item[], taxCents: bigint): Record<string, number> {
  const amounts: Record<string, number> = { tax: Number(taxCents) };
  for (const item of items) {
    amounts[item.key] = Number(item.chargeCents);
    for (const { rule, cents } of item.discounts) {
      if (cents !== 0n) amounts[`discount:${item.key}:${rule}`] = -Number(cents);
    }
    if (item.adjustedCents !== 0n) amounts[`adjustment:${item.key}`] = Number(item.adjustedCents);
    if (item.creditCents !== 0n) amounts[`credit:${item.key}`] = -Number(item.creditCents);
  }
  return amounts;
}

function emptyItem(key: string, chargeClass: HandChargeClass, taxClass: HandTaxClass): Item {
  return {
    key,
    class: chargeClass,
    taxClass,
    free: false,
    ofReset: false,
    cost: whole(0),
    chargeCents: 0n,
    discounts: [],
    adjustedCents: 0n,
    creditCents: 0n,
  };
}

function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
