import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import { bookInForce } from '../pricebook/index.ts';
import { type Agreement, agreementSchema, betterOfAgreements } from '../pricing/index.ts';

/** A maintenance agreement of a site with what its plan gives. */
export interface AgreementInForce {
  id: string;
  /** The first day it no longer holds, as `2027-01-01`. */
  endsOn: string;
  plan: Agreement;
}

/**
 * The agreement of a site that holds on a day, with its plan: as it was agreed to, and better where
 * the price book in force gives members of the plan more. A later book takes nothing away.
 * @param day on the company's calendar, as `2026-07-14`
 */
export async function agreementAt(
  prisma: Pick<Tx, 'siteAgreement' | 'priceBookVersion'>,
  siteId: string,
  day: string,
  now: Date,
): Promise<AgreementInForce | undefined> {
  const date = dateOfDay(day);
  const agreement = await prisma.siteAgreement.findFirst({
    where: { siteId, startsOn: { lte: date }, endsOn: { gt: date } },
  });
  if (agreement === null) return undefined;
  const agreed = agreementSchema.parse(agreement.plan);
  const { agreements } = await bookInForce(prisma, now);
  const offered = agreements.find(({ code }) => code === agreed.code);
  return {
    id: agreement.id,
    endsOn: dayText(agreement.endsOn),
    plan: offered === undefined ? agreed : betterOfAgreements(agreed, offered),
  };
}
