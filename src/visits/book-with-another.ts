import type { Visit } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitPurposeSchema } from './contract.ts';
import { booksOf, type FeeTerms, feeTerms } from './fee-terms.ts';
import { plannedOf } from './planned-columns.ts';
import { termsOfTrip, termsThatStay } from './terms-of-move.ts';
import { writeVisit } from './write-visit.ts';

/** A visit that was cancelled so that another technician comes in its window. */
export interface GivenAway {
  visit: Visit;
  siteId: string;
  technicianId: string;
  /** Null for the whole window. */
  plannedStart: Date | null;
  plannedEnd: Date | null;
  askedBy: 'customer' | 'company';
  /** What was booked in place of the visit whose fee it rested on, where that one goes along. */
  withFee?: Visit | undefined;
}

/**
 * Books a visit with another technician in its own window: work and terms are as they were told, and
 * where the whole trip goes along it rests on the same fee.
 * @throws ProblemError 409 when the technician has other work at that time
 */
export async function bookWithAnother(act: ActContext, given: GivenAway): Promise<Visit> {
  const { visit, technicianId, plannedStart, plannedEnd, askedBy } = given;
  const { ticketId, windowStart, windowEnd, feeAgreedBy, feeAgreedAt } = visit;
  return writeVisit(act, {
    ...{ ticketId, technicianId, windowStart, windowEnd, feeAgreedBy, feeAgreedAt },
    ...(plannedStart && plannedEnd && { planned: { plannedStart, plannedEnd } }),
    purpose: visitPurposeSchema.parse(visit.purpose),
    terms: await termsWith(act, given),
    moved: { fromId: visit.id, askedBy, windowAgreedBy: null },
  });
}

async function termsWith(act: ActContext, given: GivenAway): Promise<FeeTerms> {
  const { visit, siteId, technicianId, plannedStart, plannedEnd, withFee } = given;
  if (withFee?.sameTripAs === null) return termsOfTrip(visit, withFee.id);
  const { windowStart, windowEnd } = visit;
  const work = plannedOf({ plannedStart, plannedEnd, windowStart, windowEnd });
  const purpose = visitPurposeSchema.parse(visit.purpose);
  const place = { siteId, technicianId, windowStart, windowEnd, purpose, ...work };
  return termsThatStay(visit, await feeTerms(booksOf(act), place, 'book'));
}
