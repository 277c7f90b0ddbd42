import type { z } from 'zod';
import type { WindowOffer } from '../planning/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { feeTerms, toldFeeCents, type VisitPurpose } from '../visits/index.ts';
import { instantOf } from '../workdays/index.ts';
import type { windowOfferSchema } from './contract.ts';

/** For whom a window is offered. */
export interface OfferedTo {
  siteId: string;
  purpose: VisitPurpose;
  technicianName: string;
  /** The visit that would be given up for it. */
  insteadOfId: string | undefined;
}

/**
 * A window as it can be told: with its fee, found as the booking finds it.
 * @throws ProblemError 409 when no price book is in force
 */
export async function toldOffer(
  { prisma, sql, now }: ReadContext,
  offer: WindowOffer,
  { siteId, purpose, technicianName, insteadOfId }: OfferedTo,
): Promise<z.input<typeof windowOfferSchema>> {
  const { technicianId, window, plannedStart, plannedEnd } = offer;
  const [windowStart, windowEnd] = [instantOf(window.from), instantOf(window.to)];
  const trip = {
    ...{ siteId, technicianId, windowStart, windowEnd, purpose, insteadOfId },
    plannedStart: instantOf(plannedStart),
    plannedEnd: instantOf(plannedEnd),
  };
  const terms = await feeTerms({ prisma, sql, now }, trip, 'tell');
  return {
    ...{ technicianId, technicianName },
    windowStart: windowStart.toISOString(),
    windowEnd: windowEnd.toISOString(),
    planned: {
      start: instantOf(plannedStart).toISOString(),
      minutes: plannedEnd - plannedStart,
    },
    travel: {
      thereMinutes: offer.driveThereMinutes,
      onMinutes: offer.driveOnMinutes,
      addedMinutes: offer.addedTravelMinutes,
      afterVisitId: offer.afterStopId ?? null,
      beforeVisitId: offer.beforeStopId ?? null,
    },
    waitMinutes: offer.waitMinutes,
    slackMinutes: offer.slackMinutes,
    fee: {
      periodCode: terms.periodCode,
      feeCents: terms.feeCents,
      feeAfterDiscountCents: toldFeeCents(terms),
      sameTripAs: terms.sameTripAs,
    },
    why: whyOf(offer, technicianName),
  };
}

/** What speaks for it, with its figures. */
function whyOf(offer: WindowOffer, technicianName: string): string {
  const { driveThereMinutes, addedTravelMinutes, slackMinutes, afterStopId } = offer;
  const from = afterStopId === undefined ? 'from the base' : 'from the visit before';
  const added =
    addedTravelMinutes > 0
      ? `${addedTravelMinutes} more minutes on the road that day`
      : 'no more time on the road that day';
  return (
    `${technicianName} is ${driveThereMinutes} minutes away ${from}; ${added}, ` +
    `and ${slackMinutes} minutes to spare.`
  );
}
