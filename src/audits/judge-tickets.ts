import { setImmediate as breathe } from 'node:timers/promises';
import {
  type AuditRuleset,
  auditRulesetVersions,
  currentAuditRuleset,
  judgeJob,
} from '../auditing/index.ts';
import {
  type AuditFlagState,
  type AuditFlagTurn,
  auditFlagLifecycle,
  move,
} from '../lifecycles/index.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import { sha256 } from '../platform/sha256.ts';
import { holdToJudge } from './hold-audit.ts';
import { dismissedOf, type KnownFlag, knownFlagOf } from './known-flag-of.ts';
import type { KnownTerms } from './known-terms.ts';
import { type LoadedJob, loadJobs } from './load-jobs.ts';
import { loadedAhead } from './loaded-ahead.ts';
import { type RaisedFlag, raisedFlags } from './raised-flags.ts';
import { rowsBy } from './rows-by.ts';
import { storeOf } from './store.ts';
import { type JudgedTicket, writeJudgements } from './write-judgements.ts';

/** Whoever judges: in whose transaction, when, and with what was read before. */
export interface Judge {
  tx: Tx;
  now: Date;
  newId(): string;
  known: KnownTerms;
  ruleset?: AuditRuleset;
}

/**
 * Judges tickets by the present rules and stores what changed of it, all in the transaction of
 * whoever calls. Nothing is written of a ticket whose facts and rules are those it was judged by. A
 * flag that holds no more is gone; one that holds again is open again, unless it was answered; one
 * that was dismissed answers for what is left of it, too, and decides nothing of what others come to.
 * Tickets that are not over are passed by, and those that a newer version of this program has judged.
 * @returns how many were judged anew
 */
export async function judgeTickets(judge: Judge, ticketIds: readonly string[]): Promise<number> {
  const { tx, known } = judge;
  const store = storeOf(tx);
  // Facts are read after the lock, so that of two who judge a ticket the later has read the later.
  await holdToJudge(store.sql);
  let judged = 0;
  await loadedAhead(
    slicesOf(ticketIds),
    (slice) => loadJobs(store, slice, known),
    async (jobs) => {
      judged += await judgeLoaded(judge, store.sql, jobs);
    },
  );
  return judged;
}

/** As many as are read together; more of them would only be in memory for longer. */
const TICKETS_PER_SLICE = 100;

function slicesOf(ticketIds: readonly string[]): (readonly string[])[] {
  const slices: (readonly string[])[] = [];
  for (let at = 0; at < ticketIds.length; at += TICKETS_PER_SLICE) {
    slices.push(ticketIds.slice(at, at + TICKETS_PER_SLICE));
  }
  return slices;
}

async function judgeLoaded(
  { now, newId, ruleset = currentAuditRuleset }: Judge,
  sql: Sql,
  jobs: readonly LoadedJob[],
): Promise<number> {
  if (jobs.length === 0) return 0;
  const before = await readBefore(
    sql,
    jobs.map(({ ticketId }) => ticketId),
  );
  const judgedBefore = new Map(before.judged.map((row) => [row.ticketId, row]));
  const flagsOf = rowsBy(before.flags, ({ ticketId }) => ticketId);
  const stale = jobs
    .map((job) => ({ ...job, factsHash: judgedHash(job, flagsOf(job.ticketId)) }))
    .filter(({ ticketId, factsHash }) =>
      isStale(judgedBefore.get(ticketId), { factsHash, rulesetVersion: ruleset.version }),
    );
  if (stale.length === 0) return 0;
  const judged: JudgedTicket[] = [];
  for (const job of stale) {
    judged.push(judgedTicket(job, ruleset, flagsOf(job.ticketId)));
    if (judged.length % JOBS_PER_TURN === 0) await breathe();
  }
  await writeJudgements(sql, judged, { now, newId });
  return judged.length;
}

/** Of the facts, and of what was dismissed since: both decide what a ticket is judged to. */
function judgedHash({ factsHash }: LoadedJob, flags: readonly TicketFlag[]): string {
  const dismissed = flags.filter(({ state }) => state === 'dismissed').map(({ id }) => id);
  return dismissed.length === 0 ? factsHash : sha256([factsHash, ...dismissed.sort()].join(' '));
}

/** Some milliseconds of work: requests are answered by the same thread, and wait no longer. */
const JOBS_PER_TURN = 20;

function judgedTicket(
  { ticketId, endedAt, factsHash, facts }: LoadedJob,
  ruleset: AuditRuleset,
  known: readonly TicketFlag[],
): JudgedTicket {
  const judgement = judgeJob(facts, ruleset, dismissedOf(known));
  const raised = raisedFlags(judgement);
  return {
    ...{ ticketId, endedAt, factsHash, rulesetVersion: ruleset.version },
    overCents: judgement.overCents,
    openCents: judgement.openCents,
    flagCount: raised.length,
    cannotJudge: judgement.cannotJudge,
    ...changesOf(raised, known),
  };
}

/** A flag of a ticket as it stands. */
interface TicketFlag extends KnownFlag {
  id: string;
  ticketId: string;
  state: AuditFlagState;
}

/** What is stored of tickets from when they were judged before. */
interface Before {
  judged: readonly JudgedBefore[];
  flags: readonly TicketFlag[];
}

async function readBefore(sql: Sql, ticketIds: readonly string[]): Promise<Before> {
  const { rows } = await sql.query<Before>(BEFORE, [ticketIds]);
  return rows[0] ?? { judged: [], flags: [] };
}

interface JudgedBefore {
  ticketId: string;
  rulesetVersion: string;
  factsHash: string;
}

function isStale(
  before: JudgedBefore | undefined,
  now: Pick<JudgedBefore, 'rulesetVersion' | 'factsHash'>,
): boolean {
  if (before === undefined) return true;
  if (before.rulesetVersion === now.rulesetVersion) return before.factsHash !== now.factsHash;
  // A version that this program does not know is a newer one's.
  return auditRulesetVersions.some((version) => version === before.rulesetVersion);
}

/** What of the flags is new, holds again, and holds no more. */
function changesOf(
  raised: readonly RaisedFlag[],
  known: readonly TicketFlag[],
): Pick<JudgedTicket, 'newFlags' | 'openAgain' | 'gone'> {
  const found = raised.map((flag) => ({ flag, stored: knownFlagOf(flag, known) }));
  const holding = new Set(found.map(({ stored }) => stored));
  return {
    newFlags: found.flatMap(({ flag, stored }) => (stored === undefined ? [flag] : [])),
    openAgain: known.filter((flag) => may(flag, 'recur') && holding.has(flag)).map(({ id }) => id),
    gone: known.filter((flag) => may(flag, 'lapse') && !holding.has(flag)).map(({ id }) => id),
  };
}

function may({ state }: TicketFlag, turn: AuditFlagTurn): boolean {
  return move(auditFlagLifecycle, state, turn).allowed;
}

const BEFORE = `
  SELECT
    (SELECT coalesce(json_agg(j), '[]') FROM (
      SELECT ticket_id AS "ticketId", ruleset_version AS "rulesetVersion", facts_hash AS "factsHash"
      FROM audit_judgement WHERE ticket_id = ANY ($1)) j) AS judged,
    (SELECT coalesce(json_agg(f), '[]') FROM (
      SELECT f.id, f.ticket_id AS "ticketId", f.rule_code AS "ruleCode", f.fingerprint,
        f.corrections::text, f.over_cents AS "overCents", s.state
      FROM audit_flag f JOIN audit_flag_state s ON s.flag_id = f.id
      WHERE f.ticket_id = ANY ($1)) f) AS flags`;
