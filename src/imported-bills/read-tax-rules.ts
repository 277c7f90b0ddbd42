import { dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import { taxRuleOf } from '../pricebook/index.ts';
import type { TaxRule } from '../pricing/index.ts';

/** Reads the tax rules of a jurisdiction of all times, and finds that of a local day. */
export async function readTaxRules(
  prisma: Pick<Tx, 'taxRule'>,
  jurisdiction: string,
): Promise<(day: string) => TaxRule | undefined> {
  const rows = await prisma.taxRule.findMany({ where: { jurisdiction } });
  const rules = rows.map((row) => ({
    from: dayText(row.effectiveFrom),
    to: row.effectiveTo === null ? undefined : dayText(row.effectiveTo),
    rule: taxRuleOf(row),
  }));
  return (day) => rules.find(({ from, to }) => from <= day && (to === undefined || day < to))?.rule;
}
