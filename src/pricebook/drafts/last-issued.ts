import { z } from 'zod';
import type { Sql } from '../../platform/database/database.ts';
import { pricingInputsSchema, pricingRulesetVersions } from '../../pricing/index.ts';
import type { IssuedRevision } from './price-under.ts';

export interface IssuedQuote extends IssuedRevision {
  quoteId: string;
  number: number;
  revision: number;
  issuedAt: Date;
}

/** The quotes issued last, the newest first, each with the revision that was issued last. */
export async function lastIssued(sql: Sql, count: number): Promise<IssuedQuote[]> {
  const { rows } = await sql.query<Row>(LAST_ISSUED, [count]);
  return rows.map(({ inputs, rulesetVersion, ...row }) => ({
    ...row,
    // What is stored is read back through the schema it was checked with.
    inputs: pricingInputsSchema.parse(inputs),
    rulesetVersion: rulesetVersionSchema.parse(rulesetVersion),
  }));
}

interface Row extends Omit<IssuedQuote, 'inputs' | 'rulesetVersion'> {
  inputs: unknown;
  rulesetVersion: string;
}

const rulesetVersionSchema = z.enum(pricingRulesetVersions);

// Quotes are read, never written, by what they store; the room of quotes knows this room already.
const LAST_ISSUED = `
  WITH issued AS (
    SELECT quote_id, revision, issued_at FROM quote_issue
    WHERE NOT EXISTS (
      SELECT 1 FROM quote_issue later
      WHERE later.quote_id = quote_issue.quote_id AND later.revision > quote_issue.revision)
    ORDER BY issued_at DESC, quote_id DESC LIMIT $1)
  SELECT q.id AS "quoteId", q.number, i.revision, i.issued_at AS "issuedAt", r.inputs,
    r.ruleset_version AS "rulesetVersion",
    (SELECT json_agg(json_build_object(
       'position', o.position, 'title', o.title, 'totalCents', o.total_cents) ORDER BY o.position)
     FROM quote_option o WHERE o.revision_id = r.id) AS options
  FROM issued i
  JOIN quote q ON q.id = i.quote_id
  JOIN quote_revision r ON r.quote_id = i.quote_id AND r.number = i.revision
  ORDER BY i.issued_at DESC, q.id DESC`;
