import { currentAuditRuleset } from '../auditing/index.ts';
import { bookInForce } from '../pricebook/index.ts';
import { type BillJudge, billJudge, type JudgeSources } from './bill-judge.ts';
import { billContentSchema } from './contract.ts';

/**
 * Judges those bills of an import again that were judged by older rules or another price book. The
 * judgement follows from what is kept, so it is nobody's change and several may make it at once.
 * @returns by what all of them are judged now
 */
export async function judgeAnew(
  sources: JudgeSources,
  importId: string,
): Promise<Pick<BillJudge, 'rulesetVersion' | 'priceBookId'>> {
  const { prisma, sql, now } = sources;
  const { id: priceBookId } = await bookInForce(prisma, now);
  const { version: rulesetVersion } = currentAuditRuleset;
  const by = [rulesetVersion, priceBookId];
  // A book may be large; it is read only where a bill waits for it.
  let judge: BillJudge | undefined;
  let after = 0;
  for (;;) {
    const { rows } = await sql.query<StaleRow>(STALE, [importId, ...by, after, BATCH]);
    const last = rows.at(-1);
    if (last === undefined) return { rulesetVersion, priceBookId };
    const ready: BillJudge = judge ?? (await billJudge(sources));
    judge = ready;
    await sql.query(UPDATE, [...by, JSON.stringify(rows.map((row) => judgedRow(row, ready)))]);
    after = last.row;
  }
}

function judgedRow({ row: _, content, ...bill }: StaleRow, { judge }: BillJudge) {
  return { id: bill.id, ...judge({ ...bill, content: billContentSchema.parse(content) }) };
}

interface StaleRow {
  id: string;
  row: number;
  billedOn: string;
  content: unknown;
  chargedCents: number;
}

/** Between batches others get their turn: judging is reckoning, and one thread does it all. */
const BATCH = 100;

const STALE = `
  SELECT id, "row", billed_on::text AS "billedOn", content, charged_cents AS "chargedCents"
  FROM imported_bill
  WHERE import_id = $1 AND (ruleset_version <> $2 OR price_book_version_id <> $3) AND "row" > $4
  ORDER BY "row" LIMIT $5`;

// Locked in the order of the file, so that two who judge the same bills wait and never in a circle.
const UPDATE = `
  WITH judged AS (
    SELECT * FROM json_to_recordset($3::json) AS bill (id uuid, judgement json, "flagCount" int,
      "overCents" int)),
  held AS (
    SELECT bill.id FROM imported_bill bill WHERE bill.id IN (SELECT id FROM judged)
    ORDER BY bill."row" FOR UPDATE)
  UPDATE imported_bill bill SET judgement = judged.judgement, flag_count = judged."flagCount",
    over_cents = judged."overCents", ruleset_version = $1, price_book_version_id = $2
  FROM judged JOIN held USING (id) WHERE bill.id = judged.id`;
