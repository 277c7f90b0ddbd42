import { type Sql, sqlOf, type Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { visitFeeAt } from '../pricebook/index.ts';
import type { Agreement } from '../pricing/index.ts';
import { agreementOnWindow } from './agreement-on-window.ts';
import type { FeeAgreement, VisitPurpose } from './contract.ts';
import { findTrip } from './find-trip.ts';
import type { PlannedColumns } from './planned-columns.ts';
import { toldFeeCents } from './told-agreement.ts';

/** What a visit is booked with. The period is one of its price book's. */
export interface FeeTerms {
  feeCents: number;
  sameTripAs: string | null;
  feeAgreement: FeeAgreement | null;
  periodCode: string;
  priceBookVersionId: string;
}

/** What was told of them. */
export interface FeeDisclosure {
  toldFeeCents: number;
  toldFeeAfterDiscountCents?: number | undefined;
}

/** A trip as far as it decides on its fee. */
export interface TripToAgree extends PlannedColumns {
  siteId: string;
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  purpose: VisitPurpose;
  /** A visit that would be given up for it. */
  insteadOfId?: string | undefined;
}

interface Books {
  prisma: Pick<Tx, 'priceBookVersion' | 'company' | 'siteAgreement'>;
  sql: Sql;
  now: Date;
}

/**
 * The fee of a window and the discount on it that the site's agreement gives today. Both are stored,
 * because what was told binds: a plan that gives less later, or ends, changes nothing. Coming back
 * has no fee, and a trip has one, so there is nothing to discount.
 * @param use `book` holds the visit whose trip it is until the transaction ends
 * @throws ProblemError 409 when no price book is in force
 */
export async function feeTerms(
  { prisma, sql, now }: Books,
  { purpose, ...place }: TripToAgree,
  use: 'tell' | 'book',
): Promise<FeeTerms> {
  const { siteId, windowStart } = place;
  const { book, period } = await visitFeeAt(prisma, windowStart, now);
  const trip = purpose === 'call' ? await findTrip(sql, place, use) : undefined;
  const hasFee = purpose === 'call' && trip === undefined;
  const agreement = hasFee ? await agreementOnWindow(prisma, siteId, windowStart, now) : undefined;
  return {
    feeCents: hasFee ? period.visitFeeCents : 0,
    sameTripAs: trip?.visitId ?? null,
    feeAgreement: agreement === undefined ? null : discountOnFee(agreement.plan),
    periodCode: period.code,
    priceBookVersionId: book.id,
  };
}

/** The books as a transaction sees them. */
export function booksOf({ tx, now }: { tx: Tx; now: Date }): Books {
  return { prisma: tx, sql: sqlOf(tx), now };
}

/**
 * Refuses terms that are not what the caller was told.
 * @throws ProblemError 409 with what is to be told
 */
export function refuseUntold(terms: FeeTerms, told: FeeDisclosure): void {
  const afterDiscount = toldFeeCents(terms);
  const { toldFeeAfterDiscountCents = afterDiscount } = told;
  if (told.toldFeeCents === terms.feeCents && toldFeeAfterDiscountCents === afterDiscount) return;
  throw new ProblemError('visit-fee-differs', 'The visit fee is not what the caller was told.', {
    feeCents: terms.feeCents,
    feeAfterDiscountCents: afterDiscount,
    periodCode: terms.periodCode,
    sameTripAs: terms.sameTripAs,
  });
}

function discountOnFee({ code, name, discounts }: Agreement): FeeAgreement | null {
  const share = discounts.visit_fee;
  return share === undefined ? null : { code, name, share };
}
