import { expect } from 'vitest';
import { pricingInputsSchema, pricingRulesets } from '../../src/pricing/index.ts';
import type { TestDatabase } from './test-database.ts';

interface StoredOption {
  inputs: unknown;
  version: string;
  at: number;
  decline: number;
  total: number;
  lines: { key: string; amountCents: number }[];
}

/**
 * Computes every price ever stored again from its inputs, under the rules it was made by, and
 * compares each line to the cent.
 * @returns how many options were compared
 */
export async function assertReprices({ owner }: Pick<TestDatabase, 'owner'>): Promise<number> {
  const { rows } = await owner.query<StoredOption>(STORED);
  for (const stored of rows) {
    const ruleset = Object.values(pricingRulesets).find(
      ({ version }) => version === stored.version,
    );
    const result = ruleset?.priceQuote(pricingInputsSchema.parse(stored.inputs));
    if (result?.outcome !== 'priced') throw new Error(`not priced any more: ${stored.version}`);
    const option = result.quote.options[stored.at - 1];
    expect(result.quote.decline.totalCents).toBe(stored.decline);
    expect(option?.totalCents).toBe(stored.total);
    expect(option?.lines.map(({ key, amountCents }) => ({ key, amountCents }))).toEqual(
      stored.lines,
    );
  }
  return rows.length;
}

const STORED = `
  SELECT r.inputs, r.ruleset_version AS version, o.position AS at,
    r.decline_total_cents AS decline, o.total_cents AS total,
    (SELECT json_agg(json_build_object('key', l.key, 'amountCents', l.amount_cents)
      ORDER BY l.position) FROM quote_line l WHERE l.option_id = o.id) AS lines
  FROM quote_revision r JOIN quote_option o ON o.revision_id = r.id`;
