import { currentAuditRuleset } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import type { ReportedRule } from './contract.ts';
import type { Period } from './period.ts';

/** Every rule in force with what it found on the jobs that ended within a period. */
export async function rulesOfPeriod(
  sql: Sql,
  { from, to }: Pick<Period, 'from' | 'to'>,
): Promise<ReportedRule[]> {
  const flagged = await sql.query<FlaggedRow>(FLAGGED, [from, to]);
  const missed = await sql.query<MissedRow>(NOT_JUDGED, [from, to]);
  return currentAuditRuleset.rules.map(({ code, statement, source, severity }) => ({
    ...{ code, statement, source, severity },
    ...(flagged.rows.find((row) => row.code === code)?.counts ?? NOTHING_FLAGGED),
    ...(missed.rows.find((row) => row.code === code)?.counts ?? { notJudged: 0, missing: [] }),
  }));
}

interface FlaggedRow {
  code: string;
  counts: Pick<ReportedRule, 'open' | 'openCents' | 'accepted' | 'givenBackCents' | 'dismissed'>;
}

interface MissedRow {
  code: string;
  counts: Pick<ReportedRule, 'notJudged' | 'missing'>;
}

const NOTHING_FLAGGED = { open: 0, openCents: 0, accepted: 0, givenBackCents: 0, dismissed: 0 };

const FLAGGED = `
  SELECT f.rule_code AS code, json_build_object(
    'open', count(*) FILTER (WHERE s.state = 'open'),
    'openCents', coalesce(sum(f.over_cents) FILTER (WHERE s.state = 'open'), 0),
    'accepted', count(*) FILTER (WHERE s.state = 'accepted'),
    'givenBackCents', coalesce(sum(f.over_cents) FILTER (WHERE s.state = 'accepted'), 0),
    'dismissed', count(*) FILTER (WHERE s.state = 'dismissed')) AS counts
  FROM audit_judgement j
  JOIN audit_flag f ON f.ticket_id = j.ticket_id
  JOIN audit_flag_state s ON s.flag_id = f.id
  WHERE j.ended_at >= $1 AND j.ended_at < $2
  GROUP BY f.rule_code`;

const NOT_JUDGED = `
  SELECT missed."ruleCode" AS code, json_build_object(
    'notJudged', count(DISTINCT j.ticket_id),
    'missing', json_agg(DISTINCT what ORDER BY what)) AS counts
  FROM audit_judgement j
  CROSS JOIN LATERAL json_to_recordset(j.cannot_judge) AS missed("ruleCode" text, missing json)
  CROSS JOIN LATERAL json_array_elements_text(missed.missing) AS what
  WHERE j.ended_at >= $1 AND j.ended_at < $2
  GROUP BY 1`;
