import type pg from 'pg';
import type { lineRow, optionRow } from './revision-rows.ts';

/** Which revisions: of every quote or of one; those ever issued, or drafts as well. */
export interface RevisionScope {
  readonly quoteNumber?: number | undefined;
  readonly withDrafts: boolean;
}

/** A quote with the revisions that were asked for, as they are stored. */
export interface StoredQuote {
  readonly number: number;
  readonly revisions: readonly StoredRevision[];
}

export interface StoredRevision {
  readonly number: number;
  readonly state: string | null;
  /** Null where a state or a paper tells of a revision that is gone. */
  readonly priced: StoredPrice | null;
  readonly options: readonly StoredOption[];
  /** What was frozen when it was issued; null for what never was. */
  readonly paper: unknown;
  readonly accepted: { readonly optionId: string; readonly totalCents: number } | null;
}

export interface StoredPrice {
  readonly inputs: unknown;
  readonly rulesetVersion: string;
  readonly laborRateCents: number;
  readonly declineTotalCents: number;
  readonly optionCount: number;
}

export interface StoredOption extends Omit<ReturnType<typeof optionRow>, 'revisionId'> {
  readonly lines: readonly StoredLine[];
}

/** Everything that is stored of a line, by the names that it is stored by. */
export type StoredLine = Omit<ReturnType<typeof lineRow>, 'optionId'>;

/**
 * Quotes by their numbers with everything stored of their prices, a slice at a time, so that memory
 * stays flat however many there are. Quotes without such a revision are left out.
 */
export async function* storedRevisions(
  client: pg.ClientBase,
  scope: RevisionScope,
): AsyncGenerator<StoredQuote> {
  const { quoteNumber = null, withDrafts } = scope;
  let after = 0;
  for (;;) {
    const slice = await client.query<StoredQuote>(SLICE, [after, quoteNumber, withDrafts]);
    for (const quote of slice.rows) if (quote.revisions.length > 0) yield quote;
    const last = slice.rows.at(-1);
    if (last === undefined) return;
    after = last.number;
  }
}

/** Where each field of a line is kept. A field that is stored and not read back does not compile. */
const LINE_COLUMNS: Record<keyof StoredLine, string> = {
  position: 'l.position',
  key: 'l.key',
  kind: 'l.kind',
  priceClass: 'l.price_class',
  code: 'l.code',
  description: 'l.description',
  findingIds: 'l.finding_ids',
  aimedAt: 'l.aimed_at',
  quantity: 'l.quantity',
  unitPriceCents: 'l.unit_price_cents',
  minutes: 'l.minutes',
  // The column keeps three digits after the point whatever was typed.
  measured: 'trim_scale(l.measured)::text',
  unit: 'l.unit',
  amountCents: 'l.amount_cents',
  why: 'l.why',
};

const OPTION_COLUMNS: Record<Exclude<keyof StoredOption, 'lines'>, string> = {
  id: 'o.id',
  position: 'o.position',
  title: 'o.title',
  lineCount: 'o.line_count',
  taxCents: 'o.tax_cents',
  totalCents: 'o.total_cents',
};

const PRICE_COLUMNS: Record<keyof StoredPrice, string> = {
  inputs: 'r.inputs',
  rulesetVersion: 'r.ruleset_version',
  laborRateCents: 'r.labor_rate_cents',
  declineTotalCents: 'r.decline_total_cents',
  optionCount: 'r.option_count',
};

const LINES = `
  SELECT coalesce(json_agg(${objectOf(LINE_COLUMNS)} ORDER BY l.position), '[]')
  FROM quote_line l WHERE l.option_id = o.id`;

const OPTIONS = `
  SELECT coalesce(
    json_agg(${objectOf({ ...OPTION_COLUMNS, lines: `(${LINES})` })} ORDER BY o.position), '[]')
  FROM quote_option o
  JOIN quote_revision r ON r.id = o.revision_id
  WHERE r.quote_id = q.id AND r.number = n.number`;

const REVISION = objectOf({
  number: 'n.number',
  state: `(
    SELECT s.state FROM quote_state s WHERE s.quote_id = q.id AND s.revision = n.number)`,
  priced: `(
    SELECT ${objectOf(PRICE_COLUMNS)} FROM quote_revision r
    WHERE r.quote_id = q.id AND r.number = n.number)`,
  options: `(${OPTIONS})`,
  paper: `(
    SELECT i.paper FROM quote_issue i WHERE i.quote_id = q.id AND i.revision = n.number)`,
  accepted: `(
    SELECT json_build_object('optionId', a.option_id, 'totalCents', a.total_cents)
    FROM quote_acceptance a WHERE a.quote_id = q.id AND a.revision = n.number)`,
});

// A revision counts as issued by its paper or by its state: whoever takes one of them away has not
// taken the quote out of what is checked.
const SLICE = `
  SELECT q.number, (
    SELECT coalesce(json_agg(${REVISION} ORDER BY n.number), '[]')
    FROM (
      SELECT revision AS number FROM quote_issue WHERE quote_id = q.id
      UNION
      SELECT revision FROM quote_state
      WHERE quote_id = q.id AND ($3 OR state IN ('issued', 'accepted', 'declined'))
      UNION
      SELECT r.number FROM quote_revision r WHERE r.quote_id = q.id AND $3
    ) n
  ) AS revisions
  FROM quote q
  WHERE q.number > $1 AND ($2::integer IS NULL OR q.number = $2)
  ORDER BY q.number LIMIT 100`;

function objectOf(columns: Record<string, string>): string {
  const members = Object.entries(columns).map(([name, column]) => `'${name}', ${column}`);
  return `json_build_object(${members.join(', ')})`;
}
