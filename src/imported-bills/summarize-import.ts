import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import type { judgedImportSchema } from './contract.ts';
import { statementOf } from './statement-of.ts';

type Summary = Omit<z.input<typeof judgedImportSchema>['summary'], 'judgedBy'>;

/** What the bills of an import come to together, and what each rule says of how many. */
export async function summarizeImport(sql: Sql, importId: string): Promise<Summary> {
  const sums = await sql.query<Omit<Summary, 'rules'>>(SUMS, [importId]);
  const rules = await sql.query<Omit<Summary['rules'][number], 'statement'>>(RULES, [importId]);
  const [row] = sums.rows;
  if (row === undefined) throw new Error('a sum over no rows is one row');
  return {
    ...row,
    rules: rules.rows.map((rule) => ({ ...rule, statement: statementOf(rule.ruleCode) })),
  };
}

// Sums of ten thousand amounts below two billion cents are exact as floating numbers.
const SUMS = `
  SELECT coalesce(sum(charged_cents), 0)::float8 AS "chargedCents",
    count(*) FILTER (WHERE flag_count > 0)::int AS "flaggedCount",
    coalesce(sum(over_cents), 0)::float8 AS "overCents",
    count(*) FILTER (WHERE judgement->>'fair' IS NULL)::int AS "notPricedCount"
  FROM imported_bill WHERE import_id = $1`;

const RULES = `
  WITH said AS (
    SELECT flag->>'ruleCode' AS code, (flag->>'overCents')::bigint AS over, 1 AS flagged, 0 AS unjudged
    FROM imported_bill, json_array_elements(judgement->'flags') flag WHERE import_id = $1
    UNION ALL
    SELECT rule->>'ruleCode', 0, 0, 1
    FROM imported_bill, json_array_elements(judgement->'cannotJudge') rule WHERE import_id = $1)
  SELECT code AS "ruleCode", sum(flagged)::int AS "flaggedCount", sum(over)::float8 AS "overCents",
    sum(unjudged)::int AS "cannotJudgeCount"
  FROM said GROUP BY code ORDER BY sum(over) DESC, sum(flagged) DESC, code`;
