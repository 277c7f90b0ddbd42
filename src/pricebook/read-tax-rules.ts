import { dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { TaxRule } from '../pricing/index.ts';
import { taxRuleOf } from './tax-rule-for.ts';

/** The tax rule of a jurisdiction on a local day; null where there was none. */
export type TaxRules = (jurisdiction: string, day: string) => TaxRule | null;

/** Reads the rules of some jurisdictions, of all times. */
export async function readTaxRules(
  prisma: Pick<Tx, 'taxRule'>,
  jurisdictions: readonly string[],
): Promise<TaxRules> {
  const rows = await prisma.taxRule.findMany({
    where: { jurisdiction: { in: [...jurisdictions] } },
  });
  const rules = rows.map((row) => ({
    from: dayText(row.effectiveFrom),
    to: row.effectiveTo === null ? null : dayText(row.effectiveTo),
    rule: taxRuleOf(row),
  }));
  return (jurisdiction, day) =>
    rules.find(
      ({ from, to, rule }) =>
        rule.jurisdiction === jurisdiction && from <= day && (to === null || day < to),
    )?.rule ?? null;
}
