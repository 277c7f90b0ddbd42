import { type CancelTerms, cancelTermsSchema, rulesThatApply } from '../consumer-law/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { rulesOn } from './rules-on.ts';

/**
 * The rights to cancel that a sale of this size has in a jurisdiction on a local day, in the order
 * of their codes.
 * @param sale its total is that of the dearest thing that may be agreed to
 */
export async function cancelTermsOf(
  prisma: Pick<Tx, 'consumerRule'>,
  sale: { jurisdiction: string; day: string; totalCents: number },
): Promise<CancelTerms[]> {
  const rules = await rulesOn(prisma, sale.jurisdiction, sale.day);
  return rulesThatApply(rules, sale.totalCents).flatMap((rule) => {
    if (rule.kind !== 'cancel_right') return [];
    const { kind: _kind, title: _title, text: _text, ...terms } = rule;
    return [cancelTermsSchema.parse(terms)];
  });
}
