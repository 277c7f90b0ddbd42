import { agreementAt } from '../agreements/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { type Agreement, betterOfAgreements } from '../pricing/index.ts';
import { toldAgreement } from '../visits/index.ts';

/** A visit as far as its discounts depend on it. */
export type AgreedVisit = Pick<Visit, 'feeAgreement'> & {
  ticket: { siteId: string };
};

/**
 * The maintenance agreement that a visit's work is priced by: that of its site today. Only its
 * discount on the fee is never less than the caller was told, because the fee was agreed to; where
 * no agreement holds any more, that discount is all that is left of it.
 * @param today on the company's calendar, as `2026-07-14`
 */
export async function agreementForPrice(
  prisma: Pick<Tx, 'siteAgreement' | 'priceBookVersion'>,
  visit: AgreedVisit,
  today: string,
  now: Date,
): Promise<Agreement | undefined> {
  const told = toldAgreement(visit);
  const holding = (await agreementAt(prisma, visit.ticket.siteId, today, now))?.plan;
  if (told === undefined || holding === undefined) return holding ?? told;
  return betterOfAgreements(holding, told);
}
