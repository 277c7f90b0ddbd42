import type { ChargedLine } from '../../billing/index.ts';
import { addCents, type Cents, cents, dollarsText } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { FairPrice, JobDocument } from '../jobs/job-facts.ts';
import { ceilingCents } from './ceiling-cents.ts';
import { type Lowered, lowered } from './lowered.ts';

/**
 * A bill that we did not compute, held against our own price for what it says was done. The customer
 * paid the whole, so the whole decides: dear labor beside cheap parts is no matter, and no more goes
 * back than the whole is above its ceiling. It is taken off where the bill is furthest above our
 * price for the same: fee, labor with the way in, parts; what the bill does not split stands against
 * all that it does not tell.
 */
export function overFairPrice(document: JobDocument, fair: FairPrice): Lowered[] {
  const tolerance = fair.price.inputs.policy.fairBandTolerance;
  const fairCents = fair.option.totalCents;
  const ceiling = ceilingCents(fairCents, tolerance);
  const charges = chargesOf(document).filter(({ leftCents }) => leftCents > 0);
  const chargedCents = addCents(charges.map(({ leftCents }) => leftCents));
  const preface = `The bill charges ${dollarsText(chargedCents)}. By our price book what it names comes to ${dollarsText(fairCents)}, at most ${dollarsText(ceiling)}. `;
  let rest = chargedCents - ceiling;
  return overEach(charges, fair, tolerance).flatMap(({ line, leftCents, over }, at) => {
    const off = Math.min(rest, over);
    if (off <= 0) return [];
    rest -= off;
    const toCents = cents(leftCents - off);
    const would = `Its ${line.description} of ${dollarsText(leftCents)} would have come to ${dollarsText(toCents)}.`;
    const { sentence, correction } = lowered(
      document,
      line.key,
      toCents,
      at === 0 ? preface + would : would,
    );
    return [{ sentence, correction: { ...correction, ofWhole: true } }];
  });
}

interface ChargeOver extends ChargedLine {
  /** Above our price for the same and the tolerance. */
  readonly over: number;
}

/** The furthest above first; in an order that does not depend on which was written first. */
function overEach(
  charges: readonly ChargedLine[],
  { option }: FairPrice,
  tolerance: string,
): ChargeOver[] {
  const told = new Set(charges.map(({ line }) => classOf(line.priceClass)));
  const left = ceilings(option, told, tolerance);
  return charges
    .toSorted(byKey)
    .map((charge) => {
      const name = classOf(charge.line.priceClass);
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
    ['lump', taxCents],
  ];
  for (const [name, amount] of amounts) {
    const own = told.has(name) ? name : 'lump';
    sums.set(own, cents((sums.get(own) ?? 0) + amount));
  }
  return new Map([...sums].map(([name, sum]) => [name, ceilingCents(sum, tolerance)]));
}

type BillClass = 'visit_fee' | 'labor' | 'part' | 'lump';

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

function byKey({ line: one }: ChargedLine, { line: other }: ChargedLine): number {
  return one.key < other.key ? -1 : 1;
}
