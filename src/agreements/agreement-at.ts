import { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { type Agreement, agreementSchema } from '../pricing/index.ts';
import { dayText } from './answer-agreement.ts';

/** A maintenance agreement of a site with what its plan gives. */
export interface AgreementInForce {
  id: string;
  /** The first day it no longer holds, as `2027-01-01`. */
  endsOn: string;
  plan: Agreement;
}

/**
 * The agreement of a site that holds on a day, with its plan by the price book in force now. A
 * plan that the book offers no longer is still what the customer pays for: it gives what the last
 * book that had it says.
 * @param day on the company's calendar, as `2026-07-14`
 */
export async function agreementAt(
  prisma: Pick<Tx, 'siteAgreement' | 'priceBookVersion'>,
  siteId: string,
  day: string,
  now: Date,
): Promise<AgreementInForce | undefined> {
  const date = new Date(`${day}T00:00:00Z`);
  const agreement = await prisma.siteAgreement.findFirst({
    where: { siteId, startsOn: { lte: date }, endsOn: { gt: date } },
  });
  if (agreement === null) return undefined;
  const { id, planCode, endsOn } = agreement;
  return { id, endsOn: dayText(endsOn), plan: await planOf(prisma, planCode, now) };
}

async function planOf(
  prisma: Pick<Tx, 'priceBookVersion'>,
  planCode: string,
  now: Date,
): Promise<Agreement> {
  const books = {
    where: { effectiveFrom: { lte: now } },
    orderBy: [{ effectiveFrom: 'desc' }, { number: 'desc' }],
    select: { agreements: true },
  } satisfies Prisma.PriceBookVersionFindManyArgs;
  const newest = await prisma.priceBookVersion.findMany({ ...books, take: 1 });
  const plan =
    planIn(newest, planCode) ??
    planIn(await prisma.priceBookVersion.findMany({ ...books, skip: 1 }), planCode);
  // A book is never changed, and the agreement was made by one that had the plan.
  if (plan === undefined) throw new Error(`no price book ever had the plan ${planCode}`);
  return plan;
}

function planIn(books: { agreements: unknown }[], planCode: string): Agreement | undefined {
  for (const { agreements } of books) {
    const plan = plansSchema.parse(agreements).find(({ code }) => code === planCode);
    if (plan !== undefined) return plan;
  }
  return undefined;
}

// What a price needs of a plan: its yearly price and visits are left out.
const plansSchema = z.array(z.object(agreementSchema.shape));
