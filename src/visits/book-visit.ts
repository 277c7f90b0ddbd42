import type { z } from 'zod';
import { feeAfterDiscount } from '../agreements/index.ts';
import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { violationOf } from '../platform/database/violation.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitFeeAt } from '../pricebook/index.ts';
import type { Agreement } from '../pricing/index.ts';
import { requireTechnician } from '../staff/index.ts';
import { lockTicket, moveTicket, requireNoOpenDanger } from '../tickets/index.ts';
import { agreementOnWindow } from './agreement-on-window.ts';
import type { FeeAgreement, newVisitSchema } from './contract.ts';
import { findTrip } from './find-trip.ts';
import { refusePurpose } from './refuse-purpose.ts';

type NewVisit = z.output<typeof newVisitSchema>;

/**
 * Books a technician into an arrival window. The database, not this code, decides who wins when
 * two want the same time: an exclusion constraint on technician and planned work.
 * @throws ProblemError 400 for a window that is over; 409 when the technician is taken, the fee told
 *   is not the fee of that window or not what the site's agreement leaves of it, the ticket cannot
 *   be booked, not for that purpose, or is in danger; 422 for an unknown ticket or technician
 */
export async function bookVisit(act: ActContext, input: NewVisit): Promise<Visit> {
  if (new Date(input.windowEnd) <= act.now) {
    throw wrongField('/windowEnd', 'window_over', 'must be in the future');
  }
  const known = await act.tx.ticket.findUnique({ where: { id: input.ticketId } });
  if (known === null) throw unknownReference('/ticketId', 'There is no such ticket.');
  const ticket = await lockTicket(act, input.ticketId);
  await requireNoOpenDanger(act, ticket, 'book');
  await requireTechnician(act, input.technicianId);
  await refusePurpose(act, ticket, input.purpose);
  // Of two visits of one trip that are booked at once the second must see the first.
  await lockRow(act.tx, 'staff', input.technicianId);
  const fee = await feeToAgree(act, known.siteId, input);
  await moveTicket(act, ticket, 'book');
  const visit = await insertVisit(act, input, fee);
  await appendJournal(act, {
    event: 'visit.booked',
    subject: { kind: 'visit', id: visit.id },
    after: {
      ticketId: visit.ticketId,
      technicianId: visit.technicianId,
      purpose: visit.purpose,
      windowStart: visit.windowStart,
      windowEnd: visit.windowEnd,
      plannedStart: visit.plannedStart,
      plannedEnd: visit.plannedEnd,
      feeCents: visit.feeCents,
      sameTripAs: visit.sameTripAs,
      feeAgreement: fee.feeAgreement,
      periodCode: visit.periodCode,
    },
  });
  return visit;
}

interface FeeToAgree {
  feeCents: number;
  sameTripAs: string | null;
  feeAgreement: FeeAgreement | null;
  periodCode: string;
  priceBookVersionId: string;
}

/**
 * The fee of the window and the discount on it that the site's agreement gives today. Both are
 * stored, because what was told binds: a plan that gives less later, or ends, changes nothing.
 * Coming back has no fee, and a trip has one, so there is nothing to discount.
 * @throws ProblemError 409 unless they are what the caller was told
 */
async function feeToAgree(
  act: ActContext,
  siteId: string,
  { windowStart, windowEnd, planned, technicianId, purpose, feeDisclosure }: NewVisit,
): Promise<FeeToAgree> {
  const start = new Date(windowStart);
  const { book, period } = await visitFeeAt(act.tx, start, act.now);
  const work = planned
    ? plannedColumns(planned)
    : { plannedStart: start, plannedEnd: new Date(windowEnd) };
  const place = { siteId, technicianId, windowStart: start, ...work };
  const trip = purpose === 'call' ? await findTrip(sqlOf(act.tx), place, 'book') : undefined;
  const hasFee = purpose === 'call' && trip === undefined;
  const feeCents = hasFee ? period.visitFeeCents : 0;
  const agreement = hasFee ? await agreementOnWindow(act.tx, siteId, start, act.now) : undefined;
  const plan = agreement?.plan;
  const afterDiscountCents = plan === undefined ? feeCents : feeAfterDiscount(feeCents, plan);
  const { toldFeeCents, toldFeeAfterDiscountCents = afterDiscountCents } = feeDisclosure;
  if (toldFeeCents !== feeCents || toldFeeAfterDiscountCents !== afterDiscountCents) {
    throw new ProblemError('visit-fee-differs', 'The visit fee is not what the caller was told.', {
      feeCents,
      feeAfterDiscountCents: afterDiscountCents,
      periodCode: period.code,
      sameTripAs: trip?.visitId ?? null,
    });
  }
  const feeAgreement = plan === undefined ? null : discountOnFee(plan);
  return {
    feeCents,
    sameTripAs: trip?.visitId ?? null,
    feeAgreement,
    periodCode: period.code,
    priceBookVersionId: book.id,
  };
}

function discountOnFee({ code, name, discounts }: Agreement): FeeAgreement | null {
  const share = discounts.visit_fee;
  return share === undefined ? null : { code, name, share };
}

function plannedColumns({ start, minutes }: { start: string; minutes: number }) {
  const plannedStart = new Date(start);
  return { plannedStart, plannedEnd: new Date(plannedStart.getTime() + minutes * 60_000) };
}

async function insertVisit(
  act: ActContext,
  input: NewVisit,
  { feeAgreement, ...fee }: FeeToAgree,
): Promise<Visit> {
  try {
    return await act.tx.visit.create({
      data: {
        id: act.newId(),
        ticketId: input.ticketId,
        technicianId: input.technicianId,
        windowStart: input.windowStart,
        windowEnd: input.windowEnd,
        ...(input.planned && plannedColumns(input.planned)),
        purpose: input.purpose,
        feeAgreedBy: input.feeDisclosure.agreedBy,
        feeAgreedAt: act.now,
        createdAt: act.now,
        ...fee,
        ...(feeAgreement !== null && { feeAgreement }),
      },
    });
  } catch (error) {
    if (violationOf(error)?.constraint !== 'visit_one_live_work_per_technician') throw error;
    throw new ProblemError('window-taken', 'The technician has other work at that time.');
  }
}
