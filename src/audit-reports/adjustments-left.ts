import { type BilledLine, type Credit, keyOfUndone, statedOf } from '../billing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { cents, pricingInputsSchema } from '../pricing/index.ts';
import { adjustmentsLeftOn } from './adjustments-left-on.ts';

/**
 * What is left of that which people added to bills by hand, less what they took off, with its tax:
 * by ticket, of tickets with such a line alone. One statement, however many they are.
 */
export async function adjustmentsLeft(
  sql: Sql,
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, number>> {
  const left = new Map<string, number>();
  if (ticketIds.length === 0) return left;
  const found = await sql.query<Row>(ADJUSTED, [ticketIds]);
  for (const { ticketId, ...row } of found.rows) {
    left.set(ticketId, (left.get(ticketId) ?? 0) + leftOn(row));
  }
  return left;
}

interface Row {
  ticketId: string;
  inputs: unknown;
  rulesetVersion: string;
  optionAt: number;
  lines: Line[];
  undone: Line[];
  credited: { key: string; amountCents: number }[];
}

interface Line {
  key: string;
  kind: string;
  priceClass: string;
  description: string;
  aimedAt: string | null;
  amountCents: number;
}

function leftOn({ rulesetVersion, optionAt, lines, ...row }: Omit<Row, 'ticketId'>): number {
  const inputs = pricingInputsSchema.parse(row.inputs);
  const document = {
    lines: lines.map(billedLine),
    tax: inputs.tax,
    stated: statedOf({ inputs, rulesetVersion, optionAt }),
    work: inputs.options[optionAt]?.work ?? [],
  };
  return adjustmentsLeftOn(document, creditedOn(row));
}

function billedLine({ amountCents, ...line }: Line): BilledLine {
  return { ...line, findingIds: [], amountCents: cents(amountCents) };
}

/** What was taken off the charges: as not done on the invoice itself, and by memos since. */
function creditedOn({ undone, credited }: Pick<Row, 'undone' | 'credited'>): Credit[] {
  return [
    ...undone
      .filter(({ kind }) => kind !== 'tax')
      .map(({ key, aimedAt, amountCents }) => ({
        key: aimedAt ?? keyOfUndone(key),
        amountCents: cents(-amountCents),
      })),
    ...credited.map(({ key, amountCents }) => ({ key, amountCents: cents(amountCents) })),
  ];
}

const AS_LINE = `json_build_object('key', l.key, 'kind', l.kind, 'priceClass', l.price_class,
  'description', l.description, 'aimedAt', l.aimed_at, 'amountCents', l.amount_cents)`;

const ADJUSTED = `
  SELECT i.ticket_id AS "ticketId", r.inputs, d.ruleset_version AS "rulesetVersion",
    o.position - 1 AS "optionAt",
    (SELECT json_agg(${AS_LINE} ORDER BY l.position) FROM invoice_line l
      WHERE l.invoice_id = d.invoice_id AND l.document = d.position) AS lines,
    (SELECT coalesce(json_agg(${AS_LINE} ORDER BY l.position), '[]') FROM invoice_document u
      JOIN invoice_line l ON l.invoice_id = u.invoice_id AND l.document = u.position
      WHERE u.invoice_id = d.invoice_id AND u.undone_quote_id = d.quote_id) AS undone,
    (SELECT coalesce(json_agg(json_build_object('key', l.key, 'amountCents', l.amount_cents)), '[]')
      FROM credit_memo m JOIN credit_memo_line l ON l.memo_id = m.id
      WHERE m.invoice_id = d.invoice_id AND l.document = d.position
        AND l.price_class <> 'tax') AS credited
  FROM invoice i
  JOIN invoice_issue x ON x.invoice_id = i.id
  JOIN invoice_document d ON d.invoice_id = i.id
  JOIN quote_option o ON o.id = d.option_id
  JOIN quote_revision r ON r.id = o.revision_id
  WHERE i.ticket_id = ANY ($1) AND EXISTS (SELECT 1 FROM invoice_line l
    WHERE l.invoice_id = d.invoice_id AND l.document = d.position AND l.kind = 'adjustment')`;
