import type { z } from 'zod';
import {
  type AuditRule,
  type CorrectedDocument,
  currentAuditRuleset,
  type JobDocument,
  type JobJudgement,
  judgeJob,
} from '../auditing/index.ts';
import { chargedLines } from '../billing/index.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import type { ticketAuditSchema } from './contract.ts';
import { correctionBody } from './correction-body.ts';
import { dismissedOf, knownFlagOf } from './known-flag-of.ts';
import { nothingKnown } from './known-terms.ts';
import { loadJobs } from './load-jobs.ts';
import { raisedFlags } from './raised-flags.ts';
import { ruleWords } from './rule-body.ts';
import { storedFlags } from './stored-flags.ts';

type TicketAudit = z.input<typeof ticketAuditSchema>;

/**
 * One ticket held against every rule as it is now, with what each charge would have come to.
 * @throws ProblemError 404 for a ticket that is not there or not over
 */
export async function auditTicket(
  { prisma, sql }: Pick<ReadContext, 'prisma' | 'sql'>,
  ticketId: string,
): Promise<TicketAudit> {
  const [job] = await loadJobs({ prisma, sql }, [ticketId], nothingKnown());
  if (job === undefined) throw notFound('ticket that is over');
  const { facts, endedAt } = job;
  const stored = await storedFlags(prisma, ticketId);
  const judgement = judgeJob(facts, currentAuditRuleset, dismissedOf(stored));
  const ids = new Map(
    raisedFlags(judgement).map((flag) => [flag.ruleCode, knownFlagOf(flag, stored)?.id]),
  );
  const { ended } = facts;
  if (ended === 'billed') throw new Error('a ticket of ours is no imported bill');
  return {
    ...{ ticketId, ended, endedAt: endedAt.toISOString() },
    rulesetVersion: judgement.rulesetVersion,
    documents: facts.documents.map((document) => documentBody(document, judgement.corrected)),
    overCents: judgement.overCents,
    rules: currentAuditRuleset.rules.map((rule) => ({
      ...ruleWords(rule),
      ...answerOf(rule, judgement),
      flagId: ids.get(rule.code) ?? null,
    })),
  };
}

function answerOf(
  { code, severity }: AuditRule,
  { flags, cannotJudge }: JobJudgement,
): Omit<TicketAudit['rules'][number], 'code' | 'statement' | 'source' | 'flagId'> {
  const flag = flags.find(({ ruleCode }) => ruleCode === code);
  const blind = cannotJudge.find(({ ruleCode }) => ruleCode === code);
  const outcome = flag ? 'flagged' : blind ? 'cannot_judge' : 'clear';
  return {
    outcome,
    severity: flag?.severity ?? severity,
    missing: [...(blind?.missing ?? [])],
    sentences: [...(flag?.sentences ?? [])],
    corrections: (flag?.corrections ?? []).map(correctionBody),
    overCents: flag?.overCents ?? 0,
  };
}

function documentBody(
  document: JobDocument,
  corrected: readonly CorrectedDocument[],
): TicketAudit['documents'][number] {
  const { invoiceId, position, title, taxLeftCents } = document;
  const own = corrected.find((each) => each.invoiceId === invoiceId && each.position === position);
  return {
    ...{ invoiceId, position, title, taxLeftCents },
    charges: chargedLines(document.lines, document.credited).map(({ line, leftCents }) => {
      const credit = own?.credits.find(({ key }) => key === line.key);
      return {
        key: line.key,
        description: line.description,
        billedCents: line.amountCents,
        leftCents,
        wouldBeCents: leftCents - (credit?.amountCents ?? 0),
      };
    }),
    taxWouldBeCents: taxLeftCents - (own?.taxCents ?? 0),
  };
}
