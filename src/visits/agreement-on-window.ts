import { type AgreementInForce, agreementAt } from '../agreements/index.ts';
import { companyOf, localDay } from '../company/index.ts';
import type { Tx } from '../platform/database/database.ts';

/**
 * The maintenance agreement of a site on the day of an arrival window, by the company's calendar.
 * A caller is told the fee by it, and a visit is booked by it: both ask here.
 */
export async function agreementOnWindow(
  prisma: Pick<Tx, 'priceBookVersion' | 'company' | 'siteAgreement'>,
  siteId: string,
  windowStart: Date,
  now: Date,
): Promise<AgreementInForce | undefined> {
  const { timeZone } = await companyOf(prisma);
  return agreementAt(prisma, siteId, localDay(windowStart, timeZone), now);
}
