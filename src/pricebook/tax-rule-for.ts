import { z } from 'zod';
import { localDay } from '../company/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { TaxRule as StoredRule } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { type TaxRule, taxClassSchema } from '../pricing/index.ts';

/**
 * The tax rule of a jurisdiction on the local day of an instant.
 * @throws ProblemError 409 when there is none
 */
export async function taxRuleFor(
  prisma: Pick<Tx, 'taxRule'>,
  jurisdiction: string,
  at: Date,
  timeZone: string,
): Promise<TaxRule> {
  const day = dateOfDay(localDay(at, timeZone));
  const rule = await prisma.taxRule.findFirst({
    where: {
      jurisdiction,
      effectiveFrom: { lte: day },
      OR: [{ effectiveTo: null }, { effectiveTo: { gt: day } }],
    },
  });
  if (rule === null) {
    throw new ProblemError('no-tax-rule', `There is no tax rule in force for "${jurisdiction}".`);
  }
  return taxRuleOf(rule);
}

/** A stored rule as prices are computed by it. */
export function taxRuleOf(rule: StoredRule): TaxRule {
  return {
    jurisdiction: rule.jurisdiction,
    name: rule.name,
    rate: rule.rate.toFixed(),
    taxableClasses: z.array(taxClassSchema).parse(rule.taxableClasses),
    mode: rule.mode === 'lump_sum' ? 'lump_sum' : 'separated',
    ...(rule.separateAboveShare !== null && {
      separateAboveShare: rule.separateAboveShare.toFixed(),
    }),
    basis: rule.basis === 'item' ? 'item' : 'invoice',
  };
}
