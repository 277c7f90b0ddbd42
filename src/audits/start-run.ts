import { currentAuditRuleset } from '../auditing/index.ts';
import { appendJournal, type Doer } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { AuditRun } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { holdAudit } from './hold-audit.ts';

/**
 * Begins to judge every ticket that is over, from the first one on; the background does the work.
 * @throws ProblemError 409 while another run has not ended
 */
export async function startRun(doer: Doer, cause: 'ruleset' | 'asked'): Promise<AuditRun> {
  const { tx, now } = doer;
  await holdAudit(tx);
  const running = await tx.auditRun.findFirst({ where: { finishedAt: null } });
  if (running !== null) {
    throw new ProblemError('already-exists', 'All tickets are being judged already.', {
      auditRunId: running.id,
    });
  }
  const { rows } = await sqlOf(tx).query<{ total: number }>(TOTAL);
  const run = await tx.auditRun.create({
    data: {
      id: doer.newId(),
      rulesetVersion: currentAuditRuleset.version,
      cause,
      total: rows[0]?.total ?? 0,
      startedAt: now,
      startedById: cause === 'asked' && doer.actor?.kind === 'staff' ? doer.actor.id : null,
    },
  });
  await appendJournal(doer, {
    event: 'audit_run.started',
    subject: { kind: 'audit_run', id: run.id },
    after: { rulesetVersion: run.rulesetVersion, cause, total: run.total },
  });
  return run;
}

const TOTAL = `
  SELECT count(*)::int AS total FROM ticket
  WHERE state IN ('closed', 'cancelled', 'resolved_by_phone')`;
