import { addCents, type Cents, cents, dollarsText } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { FairPrice, JobDocument } from '../jobs/job-facts.ts';
import type { Correction } from './audit-rule.ts';
import { ceilingCents } from './ceiling-cents.ts';
import { lowered } from './lowered.ts';

/** What a bill is above our price as a whole, in one sentence, and where it goes off. */
export interface OverFairPrice {
  readonly sentence: string;
  readonly corrections: readonly Correction[];
}

/**
 * A bill that we did not compute, held against our own price for what it says was done. The customer
 * paid the whole, tax included, so the whole decides: dear labor beside cheap parts is no matter, and
 * no more goes back than the whole is above its ceiling. It is taken off where the bill is furthest
 * above our price for the same: fee, labor with the way in, parts, tax; what the bill does not split
 * stands against all that it does not tell. Which charge it is taken off is arithmetic and nothing
 * that was found of that charge, so the sentence is about the whole alone.
 */
export function overFairPrice(document: JobDocument, fair: FairPrice): OverFairPrice | undefined {
  const tolerance = fair.price.inputs.policy.fairBandTolerance;
  const ceiling = ceilingCents(fair.option.totalCents, tolerance);
  const charges = chargesWithTax(document, fair);
  const heldCents = addCents(charges.map(({ leftCents }) => leftCents));
  let rest = heldCents - ceiling;
  if (rest <= 0) return undefined;
  const sentence = sentenceOf(document, fair, { ceiling, heldCents });
  const corrections = overEach(charges, fair, tolerance).flatMap(({ key, leftCents, over }) => {
    const off = Math.min(rest, over);
    if (off <= 0) return [];
    rest -= off;
    const { correction } = lowered(document, key, cents(leftCents - off), sentence);
    return [{ ...correction, ofWhole: true as const }];
  });
  return { sentence, corrections };
}

function sentenceOf(
  document: JobDocument,
  { option }: FairPrice,
  { ceiling, heldCents }: { ceiling: Cents; heldCents: Cents },
): string {
  const left = addCents(chargesOf(document).map(({ leftCents }) => leftCents));
  const all = dollarsText(addCents([left, document.taxLeftCents]));
  // Where no tax rule of ours is known, nothing is said of the bill's tax.
  const isBeforeTax = heldCents < left + document.taxLeftCents;
  const held = isBeforeTax ? `, ${dollarsText(heldCents)} before its tax` : '';
  const over = dollarsText(cents(heldCents - ceiling));
  return `The bill charges ${all}${held}. By our price book what it names comes to ${dollarsText(option.totalCents)}, at most ${dollarsText(ceiling)}, so ${over} is too much.`;
}

interface Charge {
  readonly key: string;
  readonly name: BillClass;
  readonly leftCents: Cents;
}

interface ChargeOver extends Charge {
  /** Above our price for the same and the tolerance. */
  readonly over: number;
}

/** The charges of which anything is left, with the tax where our price has its own in it. */
function chargesWithTax(document: JobDocument, { price, option }: FairPrice): Charge[] {
  const lines = chargesOf(document).map(({ line: { key, priceClass }, leftCents }) => ({
    ...{ key, leftCents },
    name: classOf(priceClass),
  }));
  const isTaxed = option.taxCents > 0 || price.inputs.tax.rate !== '0';
  const tax = { key: 'tax', name: 'tax' as const, leftCents: document.taxLeftCents };
  return [...lines, ...(isTaxed ? [tax] : [])].filter(({ leftCents }) => leftCents > 0);
}

/** The furthest above first; in an order that does not depend on which was written first. */
function overEach(
  charges: readonly Charge[],
  { option }: FairPrice,
  tolerance: string,
): ChargeOver[] {
  const told = new Set(charges.map(({ name }) => name));
  const left = ceilings(option, told, tolerance);
  return charges
    .toSorted(byKey)
    .map((charge) => {
      const { name } = charge;
      const share = Math.min(charge.leftCents, left.get(name) ?? 0);
      left.set(name, (left.get(name) ?? 0) - share);
      return { ...charge, over: charge.leftCents - share };
    })
    .filter(({ over }) => over > 0)
    .toSorted((one, other) => other.over - one.over);
}

/** Our price with the tolerance, by what the bill tells apart. */
function ceilings(
  { classTotals, taxCents }: FairPrice['option'],
  told: ReadonlySet<BillClass>,
  tolerance: string,
): Map<BillClass, number> {
  const sums = new Map<BillClass, Cents>();
  const amounts: readonly [BillClass, number][] = [
    ['visit_fee', classTotals.visit_fee],
    ['labor', classTotals.labor + classTotals.access],
    ['part', classTotals.part],
    ['tax', taxCents],
  ];
  for (const [name, amount] of amounts) {
    const own = told.has(name) ? name : 'lump';
    sums.set(own, cents((sums.get(own) ?? 0) + amount));
  }
  return new Map([...sums].map(([name, sum]) => [name, ceilingCents(sum, tolerance)]));
}

type BillClass = 'visit_fee' | 'labor' | 'part' | 'tax' | 'lump';

function classOf(priceClass: string): BillClass {
  switch (priceClass) {
    case 'visit_fee':
    case 'part':
      return priceClass;
    case 'labor':
    case 'access':
      return 'labor';
    default:
      return 'lump';
  }
}

function byKey(one: Charge, other: Charge): number {
  return one.key < other.key ? -1 : 1;
}
