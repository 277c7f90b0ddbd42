import type { Tx } from '../platform/database/database.ts';
import { readTaxRules, type TaxRules } from '../pricebook/index.ts';
import type { KnownTerms } from './known-terms.ts';

/** The tax rules of a jurisdiction as one mark, which is another one when any of them changes. */
export interface TaxPrint {
  readonly jurisdiction: string;
  readonly print: string;
}

/**
 * The tax rules of the jurisdictions of some tickets; where their marks are those that they had
 * before, as they were read then.
 */
export async function knownTaxRules(
  prisma: Pick<Tx, 'taxRule'>,
  kept: KnownTerms['taxRules'],
  prints: readonly TaxPrint[],
): Promise<TaxRules> {
  const changed = prints.filter(
    ({ jurisdiction, print }) => kept.get(jurisdiction)?.print !== print,
  );
  if (changed.length > 0) {
    const rules = await readTaxRules(
      prisma,
      changed.map(({ jurisdiction }) => jurisdiction),
    );
    for (const { jurisdiction, print } of changed) kept.set(jurisdiction, { print, rules });
  }
  const present = new Map(prints.map(({ jurisdiction }) => [jurisdiction, kept.get(jurisdiction)]));
  return (jurisdiction, day) => present.get(jurisdiction)?.rules(jurisdiction, day) ?? null;
}

export interface KeptRules {
  readonly print: string;
  readonly rules: TaxRules;
}

export const TAX_PRINTS = `
  SELECT r.jurisdiction, md5(json_agg(r ORDER BY r.id)::text) AS print
  FROM tax_rule r
  WHERE r.jurisdiction IN (
    SELECT s.jurisdiction FROM ticket t JOIN site s ON s.id = t.site_id WHERE t.id = ANY ($1))
  GROUP BY r.jurisdiction`;
