import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { violationOf } from '../platform/database/violation.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitFeeAt } from '../pricebook/index.ts';
import { lockTicket, moveTicket } from '../tickets/index.ts';
import type { newVisitSchema } from './contract.ts';

type NewVisit = z.output<typeof newVisitSchema>;

/**
 * Books a technician into an arrival window. The database, not this code, decides who wins when
 * two want the same window: an exclusion constraint on technician and window.
 * @throws ProblemError 400 for a window that is over, 409 when the technician is taken, the fee told is not the fee of that
 *   window, or the ticket cannot be booked; 422 for an unknown ticket or technician
 */
export async function bookVisit(act: ActContext, input: NewVisit): Promise<Visit> {
  if (new Date(input.windowEnd) <= act.now) {
    throw wrongField('/windowEnd', 'window_over', 'must be in the future');
  }
  const known = await act.tx.ticket.findUnique({ where: { id: input.ticketId } });
  if (known === null) throw unknownReference('/ticketId', 'There is no such ticket.');
  const ticket = await lockTicket(act, input.ticketId);
  await requireTechnician(act, input.technicianId);
  const fee = await visitFeeAt(act.tx, new Date(input.windowStart), act.now);
  if (fee.period.visitFeeCents !== input.feeDisclosure.toldFeeCents) {
    throw new ProblemError(
      'visit-fee-differs',
      'The visit fee for that window is not the one the caller was told.',
      { feeCents: fee.period.visitFeeCents, periodCode: fee.period.code },
    );
  }
  await moveTicket(act, ticket, 'book');
  const visit = await insertVisit(act, input, {
    periodCode: fee.period.code,
    feeCents: fee.period.visitFeeCents,
    priceBookVersionId: fee.book.id,
  });
  await appendJournal(act, {
    event: 'visit.booked',
    subject: { kind: 'visit', id: visit.id },
    after: {
      ticketId: visit.ticketId,
      technicianId: visit.technicianId,
      windowStart: visit.windowStart,
      windowEnd: visit.windowEnd,
      feeCents: visit.feeCents,
      periodCode: visit.periodCode,
    },
  });
  return visit;
}

async function requireTechnician(act: ActContext, id: string): Promise<void> {
  const staff = await act.tx.staff.findUnique({ where: { id } });
  if (staff?.role !== 'technician' || staff.disabledAt !== null) {
    throw unknownReference('/technicianId', 'There is no such technician.');
  }
}

async function insertVisit(
  act: ActContext,
  input: NewVisit,
  fee: { periodCode: string; feeCents: number; priceBookVersionId: string },
): Promise<Visit> {
  try {
    return await act.tx.visit.create({
      data: {
        id: act.newId(),
        ticketId: input.ticketId,
        technicianId: input.technicianId,
        windowStart: input.windowStart,
        windowEnd: input.windowEnd,
        feeAgreedBy: input.feeDisclosure.agreedBy,
        feeAgreedAt: act.now,
        createdAt: act.now,
        ...fee,
      },
    });
  } catch (error) {
    if (violationOf(error)?.constraint !== 'visit_one_live_window_per_technician') throw error;
    throw new ProblemError('window-taken', 'The technician has another visit in that window.');
  }
}
