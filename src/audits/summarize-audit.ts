import type { z } from 'zod';
import { type AuditRule, currentAuditRuleset, type FactGroup } from '../auditing/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import type { auditSummarySchema } from './contract.ts';
import { ruleWords } from './rule-body.ts';
import { runBody } from './run-body.ts';

/** The local days on which tickets ended, either end left open. */
export interface Period {
  from?: string | undefined;
  to?: string | undefined;
}

type Summary = z.input<typeof auditSummarySchema>;

/** What the audit comes to over a period, rule by rule. */
export async function summarizeAudit(
  { prisma, sql }: Pick<ReadContext, 'prisma' | 'sql'>,
  { from, to }: Period,
): Promise<Summary> {
  const days = [from ?? null, to ?? null];
  const tickets = await sql.query<Tickets>(TICKETS, days);
  const flags = await sql.query<FlagCount>(FLAGS, days);
  const blind = await sql.query<Blind>(CANNOT_JUDGE, days);
  const runs = await prisma.auditRun.findMany({ orderBy: { startedAt: 'desc' }, take: 5 });
  const {
    overCents = 0,
    openCents = 0,
    ...counted
  } = tickets.rows[0] ?? { ended: 0, judged: 0, flagged: 0 };
  return {
    rulesetVersion: currentAuditRuleset.version,
    tickets: counted,
    ...{ overCents, openCents },
    givenBackCents: flags.rows
      .filter(({ state }) => state === 'accepted')
      .reduce((sum, each) => sum + each.overCents, 0),
    rules: currentAuditRuleset.rules.map((rule) => ofRule(rule, flags.rows, blind.rows)),
    runs: runs.map(runBody),
  };
}

interface Tickets {
  ended: number;
  judged: number;
  flagged: number;
  overCents: number;
  openCents: number;
}
interface FlagCount {
  ruleCode: string;
  state: string;
  count: number;
  overCents: number;
}
interface Blind {
  ruleCode: string;
  tickets: number;
  missing: FactGroup[];
}

function ofRule(
  rule: AuditRule,
  flags: readonly FlagCount[],
  blind: readonly Blind[],
): Summary['rules'][number] {
  const counted = (state: string) => {
    const found = flags.find((each) => each.ruleCode === rule.code && each.state === state);
    return { count: found?.count ?? 0, overCents: found?.overCents ?? 0 };
  };
  const { tickets = 0, missing = [] } = blind.find(({ ruleCode }) => ruleCode === rule.code) ?? {};
  return {
    ...ruleWords(rule),
    open: counted('open'),
    accepted: counted('accepted'),
    dismissed: counted('dismissed'),
    cannotJudge: { tickets, missing },
  };
}

const IN_PERIOD = `
  ($1::date IS NULL OR j.ended_at >= ($1::date::timestamp AT TIME ZONE c.time_zone))
  AND ($2::date IS NULL OR j.ended_at < (($2::date + 1)::timestamp AT TIME ZONE c.time_zone))`;

// Whatever is over and was not judged yet is told apart by its first closing, where it has one.
const TICKETS = `
  SELECT count(*)::int + (
      SELECT count(*)::int FROM ticket t CROSS JOIN company c
      WHERE t.state IN ('closed', 'cancelled', 'resolved_by_phone')
        AND NOT EXISTS (SELECT 1 FROM audit_judgement k WHERE k.ticket_id = t.id)
        AND ($1::date IS NULL OR coalesce(t.first_closed_at, t.created_at)
          >= ($1::date::timestamp AT TIME ZONE c.time_zone))
        AND ($2::date IS NULL OR coalesce(t.first_closed_at, t.created_at)
          < (($2::date + 1)::timestamp AT TIME ZONE c.time_zone))) AS ended,
    count(*)::int AS judged,
    (count(*) FILTER (WHERE EXISTS (SELECT 1 FROM audit_flag f
      JOIN audit_flag_state s ON s.flag_id = f.id AND s.state = 'open'
      WHERE f.ticket_id = j.ticket_id)))::int AS flagged,
    coalesce(sum(j.over_cents), 0)::float8 AS "overCents",
    coalesce(sum(j.open_cents), 0)::float8 AS "openCents"
  FROM audit_judgement j CROSS JOIN company c WHERE ${IN_PERIOD}`;

const FLAGS = `
  SELECT f.rule_code AS "ruleCode", s.state, count(*)::int AS count,
    coalesce(sum(f.over_cents), 0)::float8 AS "overCents"
  FROM audit_judgement j
  CROSS JOIN company c
  JOIN audit_flag f ON f.ticket_id = j.ticket_id
  JOIN audit_flag_state s ON s.flag_id = f.id AND s.state <> 'gone'
  WHERE ${IN_PERIOD}
  GROUP BY f.rule_code, s.state`;

const CANNOT_JUDGE = `
  SELECT b ->> 'ruleCode' AS "ruleCode", count(DISTINCT j.ticket_id)::int AS tickets,
    array_agg(DISTINCT m ORDER BY m) AS missing
  FROM audit_judgement j
  CROSS JOIN company c
  CROSS JOIN LATERAL json_array_elements(j.cannot_judge) b
  CROSS JOIN LATERAL json_array_elements_text(b -> 'missing') m
  WHERE ${IN_PERIOD}
  GROUP BY 1`;
