/**
 * A second calculation of a quote, written from the product's pricing rules before the engine was.
 *
 * It imports nothing, uses plain rationals and the slowest obvious method everywhere, so that it
 * and the engine can only agree by both being right. It knows no sentences and no derivations:
 * it answers with signed cents per line, the tax, the totals, or the names of what it refuses.
 */
export function priceByHand(inputs: HandInputs): HandAnswer {
  const refusals = inputs.options.flatMap((option) => refusalsOfWork(option));
  if (refusals.length > 0) return { refusals: refusals.sort() };

  const rate = halfUp(
    divide(costPerHour(inputs.rates), minus(whole(1), decimal(inputs.rates.margin))),
  );
  const feeCents = inputs.visitFee.chargeable ? BigInt(inputs.visitFee.amountCents) : 0n;
  const declineCents = feeCents + taxOf([feeItem(feeCents)], inputs.tax);

  const options: HandOption[] = [];
  for (const option of inputs.options) {
    const priced = priceOption(inputs, option, rate, feeCents, declineCents);
    if (Array.isArray(priced)) refusals.push(...priced);
    else options.push(priced);
  }
  if (refusals.length > 0) return { refusals: refusals.sort() };
  return { laborRateCents: Number(rate), declineTotalCents: Number(declineCents), options };
}

export interface HandInputs {
  rates: {
    annualBurdenedWageCents: number;
    annualAvailableHours: number;
    billableFraction: string;
    annualTruckCents: number;
    annualOverheadCents: number;
    technicianCount: number;
    margin: string;
  };
  tiers: {
    mode: 'progressive' | 'flat';
    steps: { upToCents: number | null; factor: string }[];
  };
  policy: {
    secondTaskDiscount: string;
    visitFeeCreditShare: string;
    fairBandTolerance: string;
    causeSearchMinutes: number;
    quoteValidityDays: number;
  };
  period: { code: string; laborFactor: string };
  visitFee: { chargeable: true; amountCents: number } | { chargeable: false; reason: string };
  tax: {
    jurisdiction: string;
    name: string;
    rate: string;
    taxableClasses: ChargeClass[];
    mode: 'separated' | 'lump_sum';
    basis: 'item' | 'invoice';
  };
  options: HandOptionInput[];
}

export interface HandOptionInput {
  title: string;
  work: HandWork[];
  adjustments: { aimedAt: string; amountCents: number; reason: string; byOwner: boolean }[];
}

export interface HandWork {
  findingId: string;
  faultCode: string;
  taskCode: string;
  taskName: string;
  remedyClass:
    | 'reset'
    | 'clean'
    | 'adjust'
    | 'repair'
    | 'replace'
    | 'accessory'
    | 'diagnose'
    | 'advise';
  systemId: string;
  minutes: number;
  accessGroup: string;
  accessMinutes: number;
  parts: {
    code: string;
    name: string;
    unitCostCents: number;
    quantity: number;
    underManufacturerWarranty: boolean;
  }[];
  recall: boolean;
}

export type HandAnswer =
  | { refusals: string[] }
  | { laborRateCents: number; declineTotalCents: number; options: HandOption[] };

export interface HandOption {
  /** Line key to signed cents; adjustments of one line are summed under `adjustment:<line>`. */
  amounts: Record<string, number>;
  taxCents: number;
  totalCents: number;
}

type ChargeClass = 'visit_fee' | 'part' | 'labor' | 'access';

/** A charge with everything that is aimed at it. `free` marks a zero that a rule made. */
interface Item {
  key: string;
  class: ChargeClass;
  free: boolean;
  cost: Rational;
  chargeCents: bigint;
  discountCents: bigint;
  adjustedCents: bigint;
  creditCents: bigint;
}

function refusalsOfWork(option: HandOptionInput): string[] {
  const refusals: string[] = [];
  option.work.forEach((work, at) => {
    if (option.work.slice(0, at).some((earlier) => earlier.findingId === work.findingId)) {
      refusals.push('duplicate_finding');
    }
    work.parts.forEach((part, partAt) => {
      if (work.parts.slice(0, partAt).some((earlier) => earlier.code === part.code)) {
        refusals.push('duplicate_part');
      }
    });
  });
  return refusals;
}

function priceOption(
  inputs: HandInputs,
  option: HandOptionInput,
  rate: bigint,
  feeCents: bigint,
  declineCents: bigint,
): HandOption | string[] {
  const fee = feeItem(feeCents);
  fee.free = !inputs.visitFee.chargeable;
  const items = [
    fee,
    ...option.work.flatMap((work) => itemsOfWork(work, inputs, rate)),
    ...accessItems(option.work, inputs, rate),
  ];
  discountSecondTasks(items, option.work, decimal(inputs.policy.secondTaskDiscount));

  const refusals = adjust(items, option.adjustments, decimal(inputs.policy.fairBandTolerance));
  if (refusals.length > 0) return refusals;

  // "Credit on acceptance = min(policy share x fee, charged labor and access after discounts), so
  // that repairing never totals less than declining": try every cent downward until it is so.
  const laborAndAccess = items
    .filter((item) => item.class === 'labor' || item.class === 'access')
    .reduce((sum, item) => sum + net(item), 0n);
  fee.creditCents = halfUp(
    times(decimal(inputs.policy.visitFeeCreditShare), rational(net(fee), 1n)),
  );
  if (laborAndAccess < fee.creditCents) fee.creditCents = laborAndAccess;
  while (fee.creditCents > 0n && total(items, inputs.tax) < declineCents) fee.creditCents -= 1n;

  const taxCents = taxOf(items, inputs.tax);
  return {
    amounts: amountsOf(items, taxCents),
    taxCents: Number(taxCents),
    totalCents: Number(total(items, inputs.tax)),
  };
}

function itemsOfWork(work: HandWork, inputs: HandInputs, rate: bigint): Item[] {
  if (work.remedyClass === 'advise') return [];
  const parts = work.parts.map((part): Item => {
    const free = work.recall || part.underManufacturerWarranty;
    const unit = free ? 0n : halfUp(partPrice(part.unitCostCents, inputs.tiers));
    return {
      ...emptyItem(`part:${work.findingId}:${work.taskCode}:${part.code}`, 'part'),
      free,
      cost: whole(part.unitCostCents * part.quantity),
      chargeCents: unit * BigInt(part.quantity),
    };
  });
  const free = work.recall || work.remedyClass === 'reset';
  const labor: Item = {
    ...emptyItem(`labor:${work.findingId}:${work.taskCode}`, 'labor'),
    free,
    cost: times(rational(BigInt(work.minutes), 60n), costPerHour(inputs.rates)),
    chargeCents: free ? 0n : timeCharge(work.minutes, rate, inputs.period.laborFactor),
  };
  return [...parts, labor];
}

/** Longest access minutes of the charged tasks of each system and group, once. */
function accessItems(work: HandWork[], inputs: HandInputs, rate: bigint): Item[] {
  const longest = new Map<string, number>();
  for (const item of work) {
    if (!isCharged(item)) continue;
    const key = `access:${item.systemId}:${item.accessGroup}`;
    longest.set(key, Math.max(longest.get(key) ?? 0, item.accessMinutes));
  }
  return [...longest]
    .filter(([, minutes]) => minutes > 0)
    .map(([key, minutes]) => ({
      ...emptyItem(key, 'access'),
      cost: times(rational(BigInt(minutes), 60n), costPerHour(inputs.rates)),
      chargeCents: timeCharge(minutes, rate, inputs.period.laborFactor),
    }));
}

function isCharged(work: HandWork): boolean {
  return !work.recall && work.remedyClass !== 'reset' && work.remedyClass !== 'advise';
}

function timeCharge(minutes: number, rate: bigint, factor: string): bigint {
  return halfUp(times(times(rational(BigInt(minutes), 60n), rational(rate, 1n)), decimal(factor)));
}

/** Every labor line but the dearest; of equal ones, the first in order of system, task, finding. */
function discountSecondTasks(items: Item[], work: HandWork[], discount: Rational): void {
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
  let dearest = inOrder[0];
  for (const item of inOrder) {
    if (dearest === undefined || item.chargeCents > dearest.chargeCents) dearest = item;
  }
  for (const item of inOrder) {
    if (item !== dearest) {
      item.discountCents = halfUp(times(discount, rational(item.chargeCents, 1n)));
    }
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
  const price = rational(computed, 1n);
  const floor = less(item.cost, price) ? item.cost : price;
  const ceiling = times(price, plus(whole(1), tolerance));
  const value = rational(adjusted, 1n);
  return !less(value, floor) && !less(ceiling, value);
}

function taxOf(items: Item[], tax: HandInputs['tax']): bigint {
  if (tax.mode === 'lump_sum') return 0n;
  const taxed = items.filter((item) => tax.taxableClasses.includes(item.class));
  const rate = decimal(tax.rate);
  if (tax.basis === 'item') {
    return taxed.reduce((sum, item) => sum + halfUp(times(rational(net(item), 1n), rate)), 0n);
  }
  return halfUp(
    times(
      rational(
        taxed.reduce((sum, item) => sum + net(item), 0n),
        1n,
      ),
      rate,
    ),
  );
}

function total(items: Item[], tax: HandInputs['tax']): bigint {
  return items.reduce((sum, item) => sum + net(item), 0n) + taxOf(items, tax);
}

function net(item: Item): bigint {
  return item.chargeCents - item.discountCents + item.adjustedCents - item.creditCents;
}

function amountsOf(items: Item[], taxCents: bigint): Record<string, number> {
  const amounts: Record<string, number> = { tax: Number(taxCents) };
  for (const item of items) {
    amounts[item.key] = Number(item.chargeCents);
    if (item.discountCents !== 0n) amounts[`discount:${item.key}`] = -Number(item.discountCents);
    if (item.adjustedCents !== 0n) amounts[`adjustment:${item.key}`] = Number(item.adjustedCents);
    if (item.creditCents !== 0n) amounts[`credit:${item.key}`] = -Number(item.creditCents);
  }
  return amounts;
}

function emptyItem(key: string, chargeClass: ChargeClass): Item {
  return {
    key,
    class: chargeClass,
    free: false,
    cost: whole(0),
    chargeCents: 0n,
    discountCents: 0n,
    adjustedCents: 0n,
    creditCents: 0n,
  };
}

function feeItem(feeCents: bigint): Item {
  return { ...emptyItem('visit_fee', 'visit_fee'), chargeCents: feeCents };
}

function costPerHour(rates: HandInputs['rates']): Rational {
  const billableHours = times(whole(rates.annualAvailableHours), decimal(rates.billableFraction));
  const wage = divide(whole(rates.annualBurdenedWageCents), billableHours);
  const truck = divide(whole(rates.annualTruckCents), billableHours);
  const overhead = divide(
    whole(rates.annualOverheadCents),
    times(whole(rates.technicianCount), billableHours),
  );
  return plus(plus(wage, truck), overhead);
}

function partPrice(unitCostCents: number, tiers: HandInputs['tiers']): Rational {
  return tiers.mode === 'progressive'
    ? progressivePrice(unitCostCents, tiers.steps)
    : flatPrice(unitCostCents, tiers.steps);
}

function progressivePrice(cost: number, steps: HandInputs['tiers']['steps']): Rational {
  let price = whole(0);
  let from = 0;
  for (const step of steps) {
    const upTo = step.upToCents ?? Number.POSITIVE_INFINITY;
    const slice = Math.max(0, Math.min(cost, upTo) - from);
    price = plus(price, times(whole(slice), decimal(step.factor)));
    from = upTo;
  }
  return price;
}

/** The step's own factor, but never below the top price of any earlier step. */
function flatPrice(cost: number, steps: HandInputs['tiers']['steps']): Rational {
  const at = steps.findIndex((step) => step.upToCents === null || cost <= step.upToCents);
  const step = steps[at];
  if (step === undefined) throw new Error('the last step has no upper end');
  let price = times(whole(cost), decimal(step.factor));
  for (const earlier of steps.slice(0, at)) {
    const top = times(whole(earlier.upToCents ?? 0), decimal(earlier.factor));
    if (less(price, top)) price = top;
  }
  return price;
}

function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

interface Rational {
  n: bigint;
  d: bigint;
}

function rational(n: bigint, d: bigint): Rational {
  if (d === 0n) throw new Error('division by zero');
  const sign = d < 0n ? -1n : 1n;
  let [a, b] = [n < 0n ? -n : n, d * sign];
  while (b !== 0n) [a, b] = [b, a % b];
  return a === 0n ? { n: 0n, d: 1n } : { n: (n * sign) / a, d: (d * sign) / a };
}

function whole(value: number): Rational {
  return rational(BigInt(value), 1n);
}

function decimal(text: string): Rational {
  const [integer = '0', fraction = ''] = text.split('.');
  return rational(BigInt(integer + fraction), 10n ** BigInt(fraction.length));
}

function plus(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d + b.n * a.d, a.d * b.d);
}

function minus(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d - b.n * a.d, a.d * b.d);
}

function times(a: Rational, b: Rational): Rational {
  return rational(a.n * b.n, a.d * b.d);
}

function divide(a: Rational, b: Rational): Rational {
  return rational(a.n * b.d, a.d * b.n);
}

function less(a: Rational, b: Rational): boolean {
  return a.n * b.d < b.n * a.d;
}

/** Nearest whole cent of an amount that is not negative; an exact half goes up. */
function halfUp(value: Rational): bigint {
  if (value.n < 0n) throw new Error('only positive amounts are rounded');
  const cents = value.n / value.d;
  return (value.n - cents * value.d) * 2n >= value.d ? cents + 1n : cents;
}
