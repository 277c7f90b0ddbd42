import { appendJournal } from '../journal/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { VisitPurpose } from './contract.ts';
import type { FeeTerms } from './fee-terms.ts';
import type { PlannedColumns } from './planned-columns.ts';
import { takenOrThrow } from './taken-or-throw.ts';

/** A booking that was decided on. */
export interface DecidedVisit {
  ticketId: string;
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  /** Absent where the whole window is planned. */
  planned?: PlannedColumns;
  purpose: VisitPurpose;
  terms: FeeTerms;
  feeAgreedBy: string;
  feeAgreedAt: Date;
  moved?: {
    fromId: string;
    askedBy: 'customer' | 'company';
    /** Null where the window is the same as before. */
    windowAgreedBy: string | null;
  };
}

/** Nobody promises an arrival so far ahead; a window beyond it is a slip in the year. */
const DAYS_AHEAD_MAX = 3_650;

/**
 * Writes a visit that was decided on, with its journal entry.
 * @throws ProblemError 400 for a window that lies too far ahead to be meant, 409 when the technician
 *   has other work at that time
 */
export async function writeVisit(act: ActContext, decided: DecidedVisit): Promise<Visit> {
  refuseTooFarAhead(act, decided);
  const visit = await insertVisit(act, decided);
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
      feeAgreement: decided.terms.feeAgreement,
      periodCode: visit.periodCode,
      ...(decided.moved && { movedFromId: visit.movedFromId, askedBy: decided.moved.askedBy }),
    },
  });
  return visit;
}

function refuseTooFarAhead({ now }: ActContext, { windowEnd }: DecidedVisit): void {
  if (windowEnd.getTime() - now.getTime() <= DAYS_AHEAD_MAX * DAY_MS) return;
  throw wrongField('/windowEnd', 'too_far_ahead', 'is years ahead: look at the year');
}

const DAY_MS = 86_400_000;

async function insertVisit(act: ActContext, decided: DecidedVisit): Promise<Visit> {
  const { terms, planned, moved, ...booking } = decided;
  const { feeAgreement, ...fee } = terms;
  try {
    return await act.tx.visit.create({
      data: {
        id: act.newId(),
        ...booking,
        ...planned,
        ...fee,
        ...(feeAgreement !== null && { feeAgreement }),
        ...(moved && {
          movedFromId: moved.fromId,
          moveAskedBy: moved.askedBy,
          windowAgreedBy: moved.windowAgreedBy,
        }),
        createdAt: act.now,
      },
    });
  } catch (error) {
    return takenOrThrow(error);
  }
}
