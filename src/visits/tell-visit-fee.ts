import type { z } from 'zod';
import { feeAfterDiscount } from '../agreements/index.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import { notFound } from '../platform/http/problem.ts';
import { visitFeeAt } from '../pricebook/index.ts';
import { agreementOnWindow } from './agreement-on-window.ts';
import type { visitFeeQuoteSchema } from './contract.ts';
import { findTrip } from './find-trip.ts';
import { plannedColumns } from './planned-columns.ts';

type Books = Pick<Tx, 'priceBookVersion' | 'company' | 'site' | 'siteAgreement'>;
/** For what the fee is asked. */
interface Asked {
  windowStart: string;
  windowEnd?: string | undefined;
  siteId?: string | undefined;
  technicianId?: string | undefined;
  plannedStart?: string | undefined;
  minutes?: number | undefined;
}

type VisitFeeQuote = z.input<typeof visitFeeQuoteSchema>;

/**
 * What a caller is told of the visit fee for an arrival window: the fee of the schedule and, when
 * the site is known, what its maintenance agreement on the day of the window leaves of it. When the
 * technician is known too, nothing where it is the trip of another visit; which one that is depends
 * on when the work is planned.
 * @throws ProblemError 409 when no price book is in force, 404 for an unknown site
 */
export async function tellVisitFee(
  { prisma, sql, now }: { prisma: Books; sql: Sql; now: Date },
  { windowStart, windowEnd, siteId, technicianId, plannedStart, minutes = 0 }: Asked,
): Promise<VisitFeeQuote> {
  const start = new Date(windowStart);
  const { period } = await visitFeeAt(prisma, start, now);
  const told = { windowStart, periodCode: period.code, feeCents: period.visitFeeCents };
  if (siteId === undefined) return told;
  const agreement = await underAgreement(prisma, siteId, start, told.feeCents, now);
  if (technicianId === undefined) return { ...told, agreement };
  // Where nobody says when the work ends, all that is known is that it is not over when it starts.
  const work = plannedColumns({ start: plannedStart ?? windowStart, minutes });
  const window = { windowStart: start, windowEnd: new Date(windowEnd ?? windowStart) };
  const place = { siteId, technicianId, ...window, ...work };
  const trip = await findTrip(sql, place, 'tell');
  if (trip === undefined) return { ...told, sameTripAs: null, agreement };
  return { ...told, feeCents: 0, sameTripAs: trip, agreement: null };
}

async function underAgreement(
  prisma: Books,
  siteId: string,
  start: Date,
  feeCents: number,
  now: Date,
): Promise<VisitFeeQuote['agreement']> {
  const site = await prisma.site.findUnique({ where: { id: siteId }, select: { id: true } });
  if (site === null) throw notFound('site');
  const agreement = await agreementOnWindow(prisma, siteId, start, now);
  if (agreement === undefined) return null;
  const { id, endsOn, plan } = agreement;
  const feeAfterDiscountCents = feeAfterDiscount(feeCents, plan);
  return { id, planCode: plan.code, name: plan.name, endsOn, feeAfterDiscountCents };
}
