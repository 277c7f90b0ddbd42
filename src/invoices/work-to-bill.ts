import type { BilledLine, UsedGoods } from '../billing/index.ts';
import { cents, type PricingInputs, pricingInputsSchema } from '../pricing/index.ts';
import type { Store } from './store.ts';

/** An accepted option with what it was priced from, and what was not done of it. */
export interface WorkToBill {
  readonly quoteId: string;
  readonly quoteNumber: number;
  readonly optionId: string;
  /** The quote it changes; none of a quote of its own. */
  readonly parentId: string | null;
  /** The trip whose fee it holds. */
  readonly visitId: string;
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  /** Where the option stands among those of its revision, from 0. */
  readonly optionAt: number;
  readonly lines: readonly BilledLine[];
  readonly undoneFindingIds: readonly string[];
  /** Of each line of parts or goods of which less went in than was sold: how much did. */
  readonly used: readonly UsedGoods[];
}

/**
 * The accepted quotes that a closing bills, oldest first: agreed to before it, neither cancelled
 * nor billed, and not held by the draft invoice of an earlier closing of the same ticket.
 */
export async function workToBill(store: Store, closingId: string): Promise<WorkToBill[]> {
  const { rows } = await store.sql.query<FoundWork>(WORK, [closingId]);
  const lines = await linesOf(store, rows);
  return rows.map((row) => ({
    ...row,
    inputs: pricingInputsSchema.parse(row.inputs),
    lines: lines.get(row.optionId) ?? [],
  }));
}

type FoundWork = Omit<WorkToBill, 'inputs' | 'lines'> & { inputs: unknown };

/** The lines of accepted options, in the order of their paper. */
export async function linesOf(
  { prisma }: Pick<Store, 'prisma'>,
  options: readonly { optionId: string }[],
): Promise<Map<string, BilledLine[]>> {
  const rows = await prisma.quoteLine.findMany({
    where: { optionId: { in: options.map(({ optionId }) => optionId) } },
    orderBy: [{ optionId: 'asc' }, { position: 'asc' }],
  });
  const byOption = new Map<string, BilledLine[]>();
  for (const row of rows) {
    const lines = byOption.get(row.optionId) ?? [];
    byOption.set(row.optionId, [...lines, billedLine(row)]);
  }
  return byOption;
}

function billedLine(row: {
  key: string;
  kind: string;
  priceClass: string;
  description: string;
  aimedAt: string | null;
  findingIds: string[];
  amountCents: number;
}): BilledLine {
  const { key, kind, priceClass, description, aimedAt, findingIds } = row;
  const amountCents = cents(row.amountCents);
  return { key, kind, priceClass, description, aimedAt, findingIds, amountCents };
}

// A quote made after a closing is not of it, even within one instant of the clock: identifiers are
// in the order of time. One made before it may be accepted after it.
const WORK = `
  SELECT q.id AS "quoteId", q.number AS "quoteNumber", a.option_id AS "optionId",
    q.parent_id AS "parentId", q.visit_id AS "visitId",
    r.inputs, r.ruleset_version AS "rulesetVersion", o.position - 1 AS "optionAt",
    ARRAY(SELECT w.finding_id::text FROM standing_outcome w
      WHERE w.quote_id = q.id AND w.outcome = 'not_done' ORDER BY 1) AS "undoneFindingIds",
    (SELECT coalesce(jsonb_agg(jsonb_build_object('key', less.key, 'quantity', less.used)
        ORDER BY less.key), '[]')
      FROM goods_used_less(q.id) less) AS used
  FROM ticket_closing c
  JOIN quote q ON q.ticket_id = c.ticket_id AND q.id < c.id
  JOIN quote_acceptance a ON a.quote_id = q.id AND a.accepted_at <= c.closed_at
  JOIN quote_option o ON o.id = a.option_id
  JOIN quote_revision r ON r.id = o.revision_id
  WHERE c.id = $1
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
    AND NOT EXISTS (SELECT 1 FROM invoice_document d WHERE d.quote_id = q.id)
    AND NOT EXISTS (
      SELECT 1 FROM ticket_closing e
      JOIN invoice i ON i.closing_id = e.id
      JOIN invoice_state s ON s.invoice_id = i.id AND s.state = 'draft'
      WHERE e.ticket_id = c.ticket_id AND e.sequence < c.sequence
        AND q.id < e.id AND a.accepted_at <= e.closed_at)
  ORDER BY q.number`;
