import { currentAuditRuleset } from '../auditing/index.ts';
import { appendJournal } from '../journal/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { AuditDeps } from './audit-deps.ts';
import { holdAudit } from './hold-audit.ts';
import { judgeTickets } from './judge-tickets.ts';
import { startRun } from './start-run.ts';

/**
 * Takes a run over all tickets one piece further, and begins one where there was none by the present
 * rules. How far it has come is stored with what was judged, so that whoever is stopped goes on from
 * there. A run by rules that this program does not know is left to the program that does.
 * @returns whether there may be more to do
 */
export async function continueRun(deps: AuditDeps, ticketsMax = PIECE_MAX): Promise<boolean> {
  return deps.db.transact(async (tx) => {
    await holdAudit(tx);
    const judging = deps.judging();
    const doer = { tx, now: judging.now, newId: judging.newId };
    const run = await tx.auditRun.findFirst({ where: { finishedAt: null } });
    const { version } = currentAuditRuleset;
    if (run === null) {
      if ((await tx.auditRun.count({ where: { rulesetVersion: version } })) > 0) return false;
      await startRun(doer, 'ruleset');
      return true;
    }
    if (run.rulesetVersion !== version) return false;
    const next = await nextTickets(tx, run.cursor, ticketsMax);
    await judgeTickets({ tx, ...judging }, next);
    const isOver = next.length < ticketsMax;
    const done = run.done + next.length;
    await tx.auditRun.update({
      where: { id: run.id },
      data: {
        cursor: next.at(-1) ?? run.cursor,
        done,
        ...(isOver && { finishedAt: judging.now }),
      },
    });
    if (isOver) {
      await appendJournal(doer, {
        event: 'audit_run.finished',
        subject: { kind: 'audit_run', id: run.id },
        after: { done },
      });
    }
    return !isOver;
  }, 'ReadCommitted');
}

/** Whoever accepts a flag meanwhile waits for a piece to end: about a fifth of a second. */
const PIECE_MAX = 200;

async function nextTickets(tx: Tx, cursor: string | null, max: number): Promise<string[]> {
  const { rows } = await sqlOf(tx).query<{ id: string }>(NEXT, [cursor, max]);
  return rows.map(({ id }) => id);
}

const NEXT = `
  SELECT id FROM ticket
  WHERE ($1::uuid IS NULL OR id > $1) AND state IN ('closed', 'cancelled', 'resolved_by_phone')
  ORDER BY id LIMIT $2`;
