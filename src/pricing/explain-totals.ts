import { goodKey, partKey } from './line-keys.ts';
import type { ChargeClass, TaxClass, TaxRule } from './price-book.ts';
import type { Stated } from './priced-quote.ts';
import type { WorkItem } from './pricing-inputs.ts';
import { wholeRatio } from './ratio.ts';
import { type WhyStep, whyInput, whyStep } from './why.ts';

/** What of a line, as priced or as stored, its option's sums are made of. */
export interface SummedLine {
  readonly position: number;
  readonly key: string;
  readonly class: ChargeClass | 'tax';
  readonly description: string;
  readonly aimedAt?: string | null;
  readonly amountCents: number;
}

/** How the total and the taxed amounts of an option come from its lines. */
export interface ExplainedTotals {
  readonly total: WhyStep;
  /** One for each amount that tax was reckoned on, in the order of the tax line's own steps. */
  readonly taxed: readonly WhyStep[];
}

/**
 * The sums of an option, line by line. Tax falls on what is left of a charge, so whatever is aimed
 * at a taxed line (discount, adjustment, credit) counts with it.
 */
export function explainTotals(
  lines: readonly SummedLine[],
  work: readonly WorkItem[],
  tax: TaxRule,
  stated: Stated,
): ExplainedTotals {
  return {
    total: sumOf('total', lines),
    taxed: taxedGroups(lines, work, tax, stated)
      .filter((group) => centsOf(group) !== 0)
      .map((group) => sumOf('taxed amount', group)),
  };
}

function taxedGroups(
  lines: readonly SummedLine[],
  work: readonly WorkItem[],
  tax: TaxRule,
  stated: Stated,
): (readonly SummedLine[])[] {
  if (stated === 'lump_sum') return [];
  const goods = taxClassesOfGoods(work);
  const taxed = lines.filter((line) => {
    if (line.class === 'tax') return false;
    return tax.taxableClasses.includes(goods.get(chargeKeyOf(line)) ?? line.class);
  });
  if (tax.basis === 'invoice') return [taxed];
  return [...new Set(taxed.map(chargeKeyOf))].map((key) =>
    taxed.filter((line) => chargeKeyOf(line) === key),
  );
}

/** The charge that a line is, or is aimed at. */
function chargeKeyOf({ key, aimedAt }: SummedLine): string {
  return aimedAt ?? key;
}

/** Parts and measured goods have a tax class of their own; of all else it is the line's class. */
function taxClassesOfGoods(work: readonly WorkItem[]): Map<string, TaxClass> {
  return new Map(
    work.flatMap((item) => [
      ...item.parts.map((part) => [partKey(item, part), part.taxClass ?? 'part'] as const),
      ...(item.goods ?? []).map((good) => [goodKey(item, good), good.taxClass ?? 'part'] as const),
    ]),
  );
}

function sumOf(name: string, lines: readonly SummedLine[]): WhyStep {
  const inputs = lines.map(({ position, description, amountCents }) =>
    whyInput(`line ${position}, ${description}`, amountCents, 'cents'),
  );
  return whyStep(name, wholeRatio(centsOf(lines)), 'cents', inputs);
}

function centsOf(lines: readonly SummedLine[]): number {
  return lines.reduce((sum, { amountCents }) => sum + amountCents, 0);
}
