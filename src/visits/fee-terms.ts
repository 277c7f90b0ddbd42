import { sqlOf } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
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
  purpose: VisitPurpose;
}

/**
 * The fee of a window and the discount on it that the site's agreement gives today. Both are stored,
 * because what was told binds: a plan that gives less later, or ends, changes nothing. Coming back
 * has no fee, and a trip has one, so there is nothing to discount.
 * @throws ProblemError 409 when no price book is in force
 */
export async function feeTerms(
  act: ActContext,
  { purpose, ...place }: TripToAgree,
): Promise<FeeTerms> {
  const { siteId, windowStart } = place;
  const { book, period } = await visitFeeAt(act.tx, windowStart, act.now);
  const trip = purpose === 'call' ? await findTrip(sqlOf(act.tx), place, 'book') : undefined;
  const hasFee = purpose === 'call' && trip === undefined;
  const agreement = hasFee
    ? await agreementOnWindow(act.tx, siteId, windowStart, act.now)
    : undefined;
  return {
    feeCents: hasFee ? period.visitFeeCents : 0,
    sameTripAs: trip?.visitId ?? null,
    feeAgreement: agreement === undefined ? null : discountOnFee(agreement.plan),
    periodCode: period.code,
    priceBookVersionId: book.id,
  };
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
