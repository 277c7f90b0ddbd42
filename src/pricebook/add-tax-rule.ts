import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { TaxRule } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newTaxRuleSchema } from './contract.ts';
import { refusePastTaxRule } from './refuse-past-tax-rule.ts';

/**
 * Adds a tax rule. One that is open-ended is closed on the day its successor begins, so a new rate
 * is one request.
 * @throws ProblemError 409 when the days overlap a rule that already has its end, or the new rule
 *   would begin before the one in force; 422 when it begins before today, bills of its days stand
 *   already and nobody confirmed that
 */
export async function addTaxRule(
  act: ActContext,
  { confirmPast = false, ...input }: z.output<typeof newTaxRuleSchema>,
): Promise<TaxRule> {
  const effectiveFrom = dateOfDay(input.effectiveFrom);
  const effectiveTo = input.effectiveTo === undefined ? null : dateOfDay(input.effectiveTo);
  await sqlOf(act.tx).query('SELECT pg_advisory_xact_lock(hashtextextended($1, 2))', [
    input.jurisdiction,
  ]);
  const ended = await endPredecessor(act, input.jurisdiction, effectiveFrom);
  await refuseOverlap(act, input.jurisdiction, effectiveFrom, effectiveTo);
  if (!confirmPast) await refusePastTaxRule(act, input);
  const rule = await act.tx.taxRule.create({
    data: {
      ...input,
      id: act.newId(),
      separateAboveShare: input.separateAboveShare ?? null,
      effectiveFrom,
      effectiveTo,
    },
  });
  await appendJournal(act, {
    event: 'tax_rule.added',
    subject: { kind: 'tax_rule', id: rule.id },
    after: { ...input },
  });
  if (ended !== null && effectiveTo !== null) await goOn(act, ended, effectiveTo);
  return rule;
}

async function endPredecessor(
  act: ActContext,
  jurisdiction: string,
  from: Date,
): Promise<TaxRule | null> {
  const open = await act.tx.taxRule.findFirst({
    where: { jurisdiction, effectiveTo: null, effectiveFrom: { lt: from } },
  });
  if (open === null) return null;
  await act.tx.taxRule.update({ where: { id: open.id }, data: { effectiveTo: from } });
  await appendJournal(act, {
    event: 'tax_rule.ended',
    subject: { kind: 'tax_rule', id: open.id },
    before: { effectiveTo: null },
    after: { effectiveTo: dayText(from) },
  });
  return open;
}

/** After a rule with an end of its own, a tax holiday say, the open-ended one before it goes on. */
async function goOn(act: ActContext, ended: TaxRule, from: Date): Promise<void> {
  const id = act.newId();
  const { jurisdiction, name, rate, taxableClasses, mode, separateAboveShare, basis } = ended;
  const rule = { jurisdiction, name, rate, taxableClasses, mode, separateAboveShare, basis };
  await act.tx.taxRule.create({ data: { ...rule, id, effectiveFrom: from, effectiveTo: null } });
  await appendJournal(act, {
    event: 'tax_rule.added',
    subject: { kind: 'tax_rule', id },
    after: {
      jurisdiction,
      rate: rate.toFixed(),
      taxableClasses,
      mode,
      ...(separateAboveShare !== null && { separateAboveShare: separateAboveShare.toFixed() }),
      basis,
      effectiveFrom: dayText(from),
    },
  });
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
