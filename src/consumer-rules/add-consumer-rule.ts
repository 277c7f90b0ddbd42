import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { ConsumerRule } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import type { newConsumerRuleSchema } from './contract.ts';

type NewRule = z.output<typeof newConsumerRuleSchema>;

/**
 * Adds a rule of a jurisdiction. An open-ended one of the same code ends on the day this begins, so
 * that a new wording is one request.
 * @throws ProblemError 409 when the days overlap another rule of that code
 */
export async function addConsumerRule(act: ActContext, input: NewRule): Promise<ConsumerRule> {
  const from = dateOfDay(input.effectiveFrom);
  const to = input.effectiveTo === undefined ? null : dateOfDay(input.effectiveTo);
  // Two that arrive together wait for each other; whoever comes around is refused by the database.
  await sqlOf(act.tx).query('SELECT pg_advisory_xact_lock(hashtextextended($1, 3))', [
    `${input.jurisdiction} ${input.code}`,
  ]);
  await endPredecessor(act, input, from);
  await refuseOverlap(act, input, from, to);
  const rule = await act.tx.consumerRule.create({
    data: {
      id: act.newId(),
      jurisdiction: input.jurisdiction,
      code: input.code,
      effectiveFrom: from,
      effectiveTo: to,
      content: input.content,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'consumer_rule.added',
    subject: { kind: 'consumer_rule', id: rule.id },
    after: {
      jurisdiction: input.jurisdiction,
      code: input.code,
      effectiveFrom: input.effectiveFrom,
      effectiveTo: input.effectiveTo ?? null,
      contentSha256: sha256(canonicalJson(input.content)),
    },
  });
  return rule;
}

async function endPredecessor(
  act: ActContext,
  { jurisdiction, code, effectiveFrom }: NewRule,
  from: Date,
): Promise<void> {
  const open = await act.tx.consumerRule.findFirst({
    where: { jurisdiction, code, effectiveTo: null, effectiveFrom: { lt: from } },
  });
  if (open === null) return;
  await act.tx.consumerRule.update({ where: { id: open.id }, data: { effectiveTo: from } });
  await appendJournal(act, {
    event: 'consumer_rule.ended',
    subject: { kind: 'consumer_rule', id: open.id },
    before: { effectiveTo: null },
    after: { effectiveTo: effectiveFrom },
  });
}

async function refuseOverlap(
  act: ActContext,
  { jurisdiction, code }: NewRule,
  from: Date,
  to: Date | null,
): Promise<void> {
  const overlapping = await act.tx.consumerRule.findFirst({
    where: {
      jurisdiction,
      code,
      ...(to !== null && { effectiveFrom: { lt: to } }),
      OR: [{ effectiveTo: null }, { effectiveTo: { gt: from } }],
    },
  });
  if (overlapping !== null) {
    throw new ProblemError(
      'already-exists',
      'This jurisdiction has that rule on those days already.',
    );
  }
}
