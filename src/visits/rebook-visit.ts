import type { z } from 'zod';
import type { Ticket, Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import { lockTicket, requireNoOpenDanger } from '../tickets/index.ts';
import { cancelForMove, requireMovable } from './cancel-for-move.ts';
import { type rebookingSchema, type VisitPurpose, visitPurposeSchema } from './contract.ts';
import { booksOf, type FeeTerms, feeTerms, refuseUntold } from './fee-terms.ts';
import { bookAlong, cancelAlong } from './give-along.ts';
import { type DaysToHold, daysOf, holdDays } from './hold-days.ts';
import { joinTrips } from './join-trips.ts';
import { type PlannedColumns, plannedColumns } from './planned-columns.ts';
import { purposesOf } from './refuse-purpose.ts';
import { refuseTaken } from './refuse-taken.ts';
import { neverMore, termsThatStay } from './terms-of-move.ts';
import { writeVisit } from './write-visit.ts';

export type Rebooking = z.output<typeof rebookingSchema>;

/** What was booked in place of a visit, and of those that rest on its fee. */
export interface Rebooked {
  visit: Visit;
  along: readonly Visit[];
}

/**
 * Books a visit anew in place of one where nobody has arrived: with another technician, in another
 * window, or both. The old one is cancelled in the same transaction, so that nothing is lost where
 * the new one cannot be booked. Where only the technician is another, nobody has to be asked and
 * nothing costs more, and all that is booked on its trip goes along; another window is agreed to,
 * and its fee.
 * @throws ProblemError 404; 400 where nothing would be another, or the window is over; 409 when
 *   somebody has arrived, others rest on its fee, the technician is taken or the fee is not what was
 *   told; 412 when somebody moved it first; 422 for an unknown technician
 */
export async function rebookVisit(
  act: ActContext,
  visitId: string,
  asked: Rebooking,
): Promise<Rebooked> {
  const days = await holdDays(act.tx, await daysToHold(act, visitId, asked));
  await lockRow(act.tx, 'visit', visitId);
  const before = await act.tx.visit.findUniqueOrThrow({ where: { id: visitId } });
  act.mustMatch(versionTag(before.version));
  const window = otherWindow(before, asked);
  await requireMovable(act, before, window ? 'rebook' : 'give');
  const technicianId = asked.technicianId ?? before.technicianId;
  if (technicianId !== before.technicianId) await requireTechnician(act, technicianId);
  const place = placeOf(act, before, technicianId, window, asked.planned);
  const ticket = await lockTicket(act, before.ticketId);
  // Whoever sets out is asked again; but nobody new is promised a time in a danger.
  if (window !== undefined) await requireNoOpenDanger(act, ticket, 'rebook');
  const going = await cancelAlong(act, days, before, asked.reason);
  await cancelForMove(act, before, asked.reason);
  const booked = await bookInPlace(act, { ticket, before, place, window, asked });
  const along = await bookAlong(act, going, booked, asked.askedBy);
  await joinTrips(act, days);
  return {
    visit: await act.tx.visit.findUniqueOrThrow({ where: { id: booked.id } }),
    along,
  };
}

/** Those of both technicians, around the window it has and the one it is to have. */
async function daysToHold(act: ActContext, id: string, asked: Rebooking): Promise<DaysToHold> {
  const found = await act.tx.visit.findUnique({
    where: { id },
    include: { ticket: { select: { siteId: true } } },
  });
  if (found === null) throw notFound('visit');
  const days = daysOf(found);
  const from = new Date(asked.windowStart ?? days.from);
  const to = new Date(asked.windowEnd ?? days.to);
  return {
    ...days,
    technicianIds: [found.technicianId, asked.technicianId ?? found.technicianId],
    from: from < days.from ? from : days.from,
    to: to > days.to ? to : days.to,
  };
}

async function bookInPlace(act: ActContext, move: Move): Promise<Visit> {
  const { ticket, before, place, window, asked } = move;
  const { purpose, terms } = await termsFor(act, move);
  return writeVisit(act, {
    ...place,
    ...{ ticketId: ticket.id, purpose, terms },
    feeAgreedBy: window?.feeDisclosure.agreedBy ?? before.feeAgreedBy,
    feeAgreedAt: window === undefined ? before.feeAgreedAt : act.now,
    moved: {
      fromId: before.id,
      askedBy: asked.askedBy,
      windowAgreedBy: window?.agreedBy ?? null,
    },
  });
}

interface OtherWindow {
  start: Date;
  end: Date;
  agreedBy: string;
  feeDisclosure: NonNullable<Rebooking['feeDisclosure']>;
}

/** The window that was agreed to; undefined where it stays, also where it is named all the same. */
function otherWindow(before: Visit, asked: Rebooking): OtherWindow | undefined {
  const { windowStart, windowEnd, windowAgreedBy: agreedBy, feeDisclosure } = asked;
  if (!windowStart || !windowEnd || !agreedBy || !feeDisclosure) return undefined;
  const [start, end] = [new Date(windowStart), new Date(windowEnd)];
  if (isWindowOf(before, { windowStart: start, windowEnd: end })) return undefined;
  return { start, end, agreedBy, feeDisclosure };
}

interface Place {
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  planned?: PlannedColumns;
}

/** Who comes when. A window that stays keeps its planned work, unless that is named too. */
function placeOf(
  act: ActContext,
  before: Visit,
  technicianId: string,
  window: OtherWindow | undefined,
  work: Rebooking['planned'],
): Place {
  const windowStart = window?.start ?? before.windowStart;
  const windowEnd = window?.end ?? before.windowEnd;
  if (technicianId === before.technicianId && isWindowOf(before, { windowStart, windowEnd })) {
    throw wrongField('', 'unchanged', 'names the technician and the window that it has');
  }
  if (window !== undefined && windowEnd <= act.now) {
    throw wrongField('/windowEnd', 'window_over', 'must be in the future');
  }
  const planned = work ? plannedColumns(work) : window ? undefined : storedPlan(before);
  if (planned && (planned.plannedStart < windowStart || planned.plannedStart > windowEnd)) {
    throw wrongField('/planned/start', 'outside_window', 'must lie in the arrival window');
  }
  return { technicianId, windowStart, windowEnd, ...(planned && { planned }) };
}

function isWindowOf(visit: Visit, { windowStart, windowEnd }: Omit<Place, 'technicianId'>) {
  return (
    visit.windowStart.getTime() === windowStart.getTime() &&
    visit.windowEnd.getTime() === windowEnd.getTime()
  );
}

function storedPlan({ plannedStart, plannedEnd }: Visit): PlannedColumns | undefined {
  return plannedStart && plannedEnd ? { plannedStart, plannedEnd } : undefined;
}

interface Move {
  ticket: Ticket;
  /** As it stood; it is cancelled by now, so that it is in nobody's way. */
  before: Visit;
  place: Place;
  window: OtherWindow | undefined;
  asked: Rebooking;
}

/** What the new visit is for, and its fee. */
async function termsFor(
  act: ActContext,
  { ticket, before, place, window, asked }: Move,
): Promise<{ purpose: VisitPurpose; terms: FeeTerms }> {
  const { technicianId, windowStart, windowEnd, planned } = place;
  const purpose = window ? await purposeNow(act, ticket, before) : purposeOf(before);
  const work = planned ?? { plannedStart: windowStart, plannedEnd: windowEnd };
  await refuseTaken(act, technicianId, work);
  const { siteId } = ticket;
  const trip = { ...{ siteId, technicianId, windowStart, windowEnd, purpose }, ...work };
  const found = await feeTerms(booksOf(act), trip, 'book');
  const terms = await termsAsAsked(act, before, found, window && asked.askedBy);
  // Where the window stays nobody has to be told a fee, but who was told one was told this.
  if (asked.feeDisclosure) refuseUntold(terms, asked.feeDisclosure);
  return { purpose, terms };
}

async function termsAsAsked(
  { tx }: ActContext,
  before: Visit,
  found: FeeTerms,
  otherWindowFor: Rebooking['askedBy'] | undefined,
): Promise<FeeTerms> {
  if (otherWindowFor === undefined) return termsThatStay(before, found);
  return otherWindowFor === 'customer' ? found : neverMore(tx, before, found);
}

function purposeOf({ purpose }: Visit): VisitPurpose {
  return visitPurposeSchema.parse(purpose);
}

/** What it was booked for, unless the ticket is by now for another purpose only. */
async function purposeNow(act: ActContext, ticket: Ticket, before: Visit): Promise<VisitPurpose> {
  const fitting = await purposesOf(act.tx, ticket);
  const booked = purposeOf(before);
  return fitting.includes(booked) ? booked : (fitting[0] ?? booked);
}
