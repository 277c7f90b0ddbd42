import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { TaxRule } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newTaxRuleSchema } from './contract.ts';

/**
 * Adds a tax rule. One that is open-ended is closed on the day its successor begins, so a new rate
 * is one request.
 * @throws ProblemError 409 when the days overlap a rule that already has its end, or the new rule
 *   would begin before the one in force
 */
export async function addTaxRule(
  act: ActContext,
  input: z.output<typeof newTaxRuleSchema>,
): Promise<TaxRule> {
  const effectiveFrom = new Date(`${input.effectiveFrom}T00:00:00Z`);
  const effectiveTo =
    input.effectiveTo === undefined ? null : new Date(`${input.effectiveTo}T00:00:00Z`);
  if (effectiveTo !== null && effectiveTo <= effectiveFrom) {
    throw new ProblemError('already-exists', 'The rule would end before it begins.');
  }
  await sqlOf(act.tx).query('SELECT pg_advisory_xact_lock(hashtextextended($1, 2))', [
    input.jurisdiction,
  ]);
  await act.tx.taxRule.updateMany({
    where: {
      jurisdiction: input.jurisdiction,
      effectiveTo: null,
      effectiveFrom: { lt: effectiveFrom },
    },
    data: { effectiveTo: effectiveFrom },
  });
  await refuseOverlap(act, input.jurisdiction, effectiveFrom, effectiveTo);
  const rule = await act.tx.taxRule.create({
    data: { ...input, id: act.newId(), effectiveFrom, effectiveTo },
  });
  await appendJournal(act, {
    event: 'tax_rule.added',
    subject: { kind: 'tax_rule', id: rule.id },
    after: { ...input },
  });
  return rule;
}

async function refuseOverlap(
  act: ActContext,
  jurisdiction: string,
  from: Date,
  to: Date | null,
): Promise<void> {
  const overlapping = await act.tx.taxRule.findFirst({
    where: {
      jurisdiction,
      ...(to !== null && { effectiveFrom: { lt: to } }),
      OR: [{ effectiveTo: null }, { effectiveTo: { gt: from } }],
    },
  });
  if (overlapping !== null) {
    throw new ProblemError('already-exists', 'Another rule of this jurisdiction holds then.');
  }
}
