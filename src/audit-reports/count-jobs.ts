import type { JobCount, MeasureCode } from '../auditing/index.ts';
import { localDay } from '../company/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { type Cents, cents } from '../pricing/index.ts';
import { findFault, remedyFor } from '../trade/index.ts';
import { adjustmentsLeft } from './adjustments-left.ts';
import type { Period } from './period.ts';

/** What says whether a bill was at a fair price: where one of them cannot tell, nobody can. */
export const PRICE_RULES: readonly string[] = [
  'above_ceiling',
  'differs_from_book',
  'access_charged_twice',
];

/** How many jobs are held at a time, however many there are. */
const BATCH = 1_000;

/** One job that is over, with what its report says of it. */
export interface SeenJob {
  readonly ticketId: string;
  readonly ticketNumber: number;
  readonly endedAt: Date;
  readonly count: JobCount;
  /** With tax, as it was invoiced. */
  readonly billedCents: Cents;
  /** Of that, what no credit memo gave back. */
  readonly leftCents: Cents;
  /** Of that, what people added by hand less what they took off, with its tax. */
  readonly adjustedCents: number;
  /** What its open flags together come to; two about one charge never add. */
  readonly openCents: Cents;
  /** Whatever comes to most first; those that no longer hold are left out. */
  readonly flags: readonly SeenFlag[];
  /** The rules that could not be held against it, each with what is not known. */
  readonly cannotJudge: readonly {
    readonly ruleCode: string;
    readonly missing: readonly string[];
  }[];
  /** What there is about it that rules speak of. */
  readonly has: Readonly<Record<Matter, boolean>>;
}

export interface SeenFlag {
  readonly code: string;
  readonly state: 'open' | 'accepted' | 'dismissed';
  readonly overCents: number;
  /** The first of what it says. */
  readonly sentence: string;
}

/** What rules speak of: a bill, work that was sold, work that was done, a reset, a cancelled ticket. */
export type Matter = 'bill' | 'sale' | 'work' | 'reset' | 'cancellation';

/**
 * Every job that ended within a period and was judged, one small row each, in the order of their
 * end. All that a report counts of flags and rules comes from this one look. In what is counted,
 * flags that the owner dismissed are none.
 */
export async function* countJobs(
  sql: Sql,
  { from, to, timeZone }: Pick<Period, 'from' | 'to' | 'timeZone'>,
): AsyncGenerator<SeenJob> {
  let after: Row | undefined;
  do {
    const found = await sql.query<Row>(JOBS, [
      from,
      to,
      after?.endedAt ?? from,
      after?.id ?? BEFORE_ALL,
      BATCH,
    ]);
    const adjusted = await adjustmentsLeft(sql, found.rows.filter(isAdjusted).map(idOf));
    for (const row of found.rows) yield seenJobOf(row, timeZone, adjusted.get(row.id) ?? 0);
    after = found.rows.at(-1);
  } while (after !== undefined);
}

interface Row {
  id: string;
  number: number;
  /** To the microsecond, so that no job is passed by. */
  endedAt: string;
  endedMillis: number;
  state: 'closed' | 'cancelled' | 'resolved_by_phone';
  kind: string;
  symptoms: string[];
  callTakerId: string;
  technicianId: string | null;
  installedOn: string | null;
  flags: SeenFlag[];
  /** What the flags that wait for an answer come to together. */
  openCents: number;
  cannotJudge: { ruleCode: string; missing: string[] }[];
  findings: { faultCode: string; taskCode: string; standing: string }[];
  /** Null where no work was sold. */
  allProven: boolean | null;
  soldQuotes: number;
  /** Null where nobody had a choice. */
  dearestTaken: boolean | null;
  taskCodes: string[];
  partCategories: string[];
  phoneChecked: boolean;
  cameBack: boolean;
  cured: boolean | null;
  readAfter: boolean;
  billedCents: number;
  taxCents: number;
  givenBackCents: number;
  isAdjusted: boolean;
}

function isAdjusted({ isAdjusted: is }: Row): boolean {
  return is;
}

function idOf({ id }: Row): string {
  return id;
}

function seenJobOf(row: Row, timeZone: string, adjustedCents: number): SeenJob {
  return {
    ...{ ticketId: row.id, ticketNumber: row.number, endedAt: new Date(row.endedMillis) },
    count: jobCountOf(row, timeZone),
    billedCents: cents(row.billedCents),
    leftCents: cents(row.billedCents - row.givenBackCents),
    adjustedCents,
    openCents: cents(row.openCents),
    flags: row.flags,
    cannotJudge: row.cannotJudge,
    has: mattersOf(row),
  };
}

function mattersOf(row: Row): SeenJob['has'] {
  return {
    bill: row.billedCents > 0,
    sale: row.soldQuotes > 0,
    work: row.taskCodes.length > 0,
    reset: row.findings.some(isReset),
    cancellation: row.state === 'cancelled',
  };
}

function jobCountOf(row: Row, timeZone: string): JobCount {
  return {
    technicianId: row.technicianId,
    callTakerId: row.callTakerId,
    taskCodes: row.taskCodes,
    partCategories: row.partCategories,
    month: localDay(new Date(row.endedMillis), timeZone).slice(0, 7),
    work: row.kind === 'repair' ? (row.symptoms[0] ?? 'other') : row.kind,
    systemAgeYears: ageOf(row),
    answers: answersOf(row),
    billedCents: cents(row.billedCents - row.taxCents),
  };
}

function answersOf(row: Row): JobCount['answers'] {
  const isSold = row.allProven !== null;
  const isDone = row.taskCodes.length > 0;
  const hasReset = row.findings.some(isReset);
  const couldBeSolved = row.kind === 'repair' && row.state !== 'cancelled' && row.phoneChecked;
  const answers: Record<MeasureCode, boolean | null | undefined> = {
    reset_billed: hasReset ? isFlagged(row, ['reset_billed_as_repair']) : undefined,
    cause_found: hasReset ? row.findings.some(isCause) : undefined,
    unproven: isSold ? isFlagged(row, ['line_without_finding']) : undefined,
    above_book: isSold ? isFlagged(row, PRICE_RULES) : undefined,
    proven: row.allProven,
    came_back: isDone ? row.cameBack : undefined,
    read_after_work: isDone ? row.readAfter : undefined,
    cured_first_time: isDone ? row.cured : undefined,
    dearest_taken: row.dearestTaken,
    solved_by_phone: couldBeSolved ? row.state === 'resolved_by_phone' : undefined,
  };
  return Object.fromEntries(Object.entries(answers).filter(([, answer]) => answer != null));
}

/** Whether one of some rules found too much; undefined where one of them could not tell. */
function isFlagged({ flags, cannotJudge }: Row, codes: readonly string[]): boolean | undefined {
  const found = flags.filter(({ state, overCents }) => state !== 'dismissed' && overCents > 0);
  if (found.some(({ code }) => codes.includes(code))) return true;
  return cannotJudge.some(({ ruleCode }) => codes.includes(ruleCode)) ? undefined : false;
}

type Found = Row['findings'][number];

/** By the catalog, whatever the finding says of itself. */
function isReset({ faultCode, taskCode }: Found): boolean {
  return remedyFor(faultCode, taskCode)?.remedyClass === 'reset';
}

/** A fault that can bring others about, carried by readings. */
function isCause({ faultCode, standing }: Found): boolean {
  const isShown = standing === 'proven' || standing === 'supported';
  return isShown && findFault(faultCode)?.role === 'cause';
}

/** Whole years from the day the oldest machine concerned was put in. */
function ageOf({ installedOn, endedMillis }: Row): number | null {
  if (installedOn === null) return null;
  const days = (endedMillis - Date.parse(`${installedOn}T00:00:00Z`)) / 86_400_000;
  return Math.max(0, Math.floor(days / 365.25));
}

const BEFORE_ALL = '00000000-0000-0000-0000-000000000000';

// Of work whose yes was taken back nothing counts. Whether there is any row is asked with a LIMIT and
// not with EXISTS: that may be answered by reading a whole table, once more for each batch.
const JOBS = `
  SELECT t.id, t.number, j.ended_at::text AS "endedAt",
    (extract(epoch FROM j.ended_at) * 1000)::float8 AS "endedMillis",
    t.state::text AS state, t.kind, t.symptoms, t.created_by_id AS "callTakerId",
    visited.technician_id AS "technicianId", found.installed::text AS "installedOn",
    j.open_cents AS "openCents",
    (SELECT coalesce(json_agg(json_build_object('code', f.rule_code, 'overCents', f.over_cents,
        'state', s.state, 'sentence', f.sentences ->> 0) ORDER BY f.over_cents DESC, f.rule_code), '[]')
      FROM audit_flag f
      JOIN audit_flag_state s ON s.flag_id = f.id AND s.state <> 'gone'
      WHERE f.ticket_id = t.id) AS flags,
    j.cannot_judge AS "cannotJudge", found.findings,
    sold.quotes::int AS "soldQuotes", sold.proven AS "allProven", sold.dearest AS "dearestTaken",
    ARRAY(SELECT DISTINCT f.task_code FROM visit v JOIN standing_outcome w ON w.visit_id = v.id
      JOIN finding f ON f.id = w.finding_id
      WHERE v.ticket_id = t.id AND w.outcome = 'done' ORDER BY 1) AS "taskCodes",
    ARRAY(SELECT DISTINCT p.category FROM visit v JOIN part_use u ON u.visit_id = v.id
      JOIN price_book_part p ON p.version_id = v.price_book_version_id AND p.code = u.part_code
      WHERE v.ticket_id = t.id
        AND NOT EXISTS (SELECT 1 FROM work_strike k WHERE k.part_use_id = u.id)
      ORDER BY 1) AS "partCategories",
    (SELECT true FROM phone_check c WHERE c.ticket_id = t.id LIMIT 1) IS TRUE AS "phoneChecked",
    (SELECT true FROM ticket_callback b WHERE b.ticket_id = t.id LIMIT 1) IS TRUE AS "cameBack",
    (SELECT c.complaint_gone = 'yes' AND NOT EXISTS (SELECT 1 FROM ticket_callback b
        WHERE b.closing_id = c.id) AND NOT EXISTS (SELECT 1 FROM closing_uncured u
        WHERE u.closing_id = c.id)
      FROM ticket_closing c WHERE c.ticket_id = t.id AND c.sequence = 1) AS cured,
    (SELECT true FROM visit v JOIN reading r ON r.visit_id = v.id AND r.phase = 'left'
      WHERE v.ticket_id = t.id LIMIT 1) IS TRUE AS "readAfter",
    billed.total AS "billedCents", billed.tax AS "taxCents", billed.given AS "givenBackCents",
    billed.adjusted AS "isAdjusted"
  FROM (SELECT ticket_id, ended_at, cannot_judge, open_cents FROM audit_judgement
    WHERE ended_at >= $1 AND ended_at < $2 AND (ended_at, ticket_id) > ($3::timestamptz, $4::uuid)
    ORDER BY ended_at, ticket_id LIMIT $5) j
  JOIN ticket t ON t.id = j.ticket_id
  LEFT JOIN LATERAL (
    SELECT v.technician_id FROM visit v WHERE v.ticket_id = t.id AND v.state = 'finished'
    ORDER BY v.arrived_at DESC, v.id DESC LIMIT 1) visited ON true
  LEFT JOIN LATERAL (
    SELECT min(e.installed_on) AS installed,
      coalesce(json_agg(json_build_object('faultCode', f.fault_code, 'taskCode', f.task_code,
        'standing', f.standing)), '[]') AS findings
    FROM visit v JOIN finding f ON f.visit_id = v.id JOIN equipment e ON e.id = f.equipment_id
    WHERE v.ticket_id = t.id) found ON true
  CROSS JOIN LATERAL (
    SELECT coalesce(sum(i.total_cents), 0)::float8 AS total,
      coalesce(sum(i.tax_cents), 0)::float8 AS tax,
      coalesce(sum((SELECT sum(m.total_cents) FROM credit_memo m
        WHERE m.invoice_id = n.id)), 0)::float8 AS given,
      coalesce(bool_or((SELECT true FROM invoice_line l
        WHERE l.invoice_id = n.id AND l.kind = 'adjustment' LIMIT 1)), false) AS adjusted
    FROM invoice n JOIN invoice_issue i ON i.invoice_id = n.id WHERE n.ticket_id = t.id) billed
  LEFT JOIN LATERAL (
    SELECT count(*) AS quotes, bool_and(proof.proven) AS proven,
      bool_and(o.total_cents = choice.most) FILTER (WHERE choice.options > 1) AS dearest
    FROM quote q
    JOIN quote_acceptance a ON a.quote_id = q.id
    JOIN quote_option o ON o.id = a.option_id
    CROSS JOIN LATERAL (SELECT count(*) AS options, max(total_cents) AS most
      FROM quote_option WHERE revision_id = o.revision_id) choice
    JOIN LATERAL (SELECT bool_and(f.standing = 'proven') AS proven
      FROM quote_line l JOIN finding f ON f.id = ANY (l.finding_ids)
      WHERE l.option_id = o.id AND l.amount_cents > 0) proof ON true
    WHERE q.ticket_id = t.id
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)) sold ON true
  ORDER BY j.ended_at, j.ticket_id`;
