import type { TicketState } from '../../src/lifecycles/index.ts';
import type { Slot } from './calendar.ts';
import { hasTurns } from './company-plan.ts';
import { findAndOffer, type Trip, usualMinutes } from './find-and-offer.ts';
import { firstClosing } from './first-closing.ts';
import {
  booked,
  type Job,
  type Step,
  step,
  technicianOf,
  termsAt,
  termsOf,
  writeTicketRow,
  writeVisitRow,
} from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import { bookAt } from './price-books.ts';
import { randomFor } from './random.ts';
import { tell, tellBill } from './tell-bill.ts';
import { alone, nothingUndone, toBill, workOf } from './to-bill.ts';
import { memoOfTurn } from './turns/memo-of-turn.ts';
import { secondOfTrip } from './turns/second-of-trip.ts';
import { workAll } from './turns/work-all.ts';
import { writeSecondCall } from './turns/write-second-call.ts';
import { visitSteps } from './visit-steps.ts';
import { workAt } from './work-at.ts';
import { writeClosing } from './write-closing.ts';
import { type FieldVisit, recordEvidence } from './write-evidence.ts';
import type { Outcomes } from './write-work.ts';

/** Writes a ticket whose technician was there: evidence, findings, quote, and how it went on. */
export function writeVisited(pen: Pen, job: Job): void {
  const { slot } = job;
  const technician = technicianOf(pen, slot);
  const arrivedAt = minutesAfter(slot.start, pen.random.between(-5, 25) + minutesLate(pen, job));
  const terms = termsOf(pen, job);
  const visitId = writeVisitRow(pen, job, slot, terms, [
    step('on_the_way', minutesAfter(arrivedAt, -20), technician),
    step('on_site', arrivedAt, technician),
    step('finished', minutesAfter(arrivedAt, ON_SITE_MINUTES), technician),
  ]);
  const visit: FieldVisit = {
    id: visitId,
    ticketId: job.ticketId,
    technician,
    machine: job.machine,
    place: job.place,
    book: bookAt(pen.plan.books, arrivedAt),
  };
  const trip = { visit, terms, arrivedAt, purpose: 'call' as const, minutes: usualMinutes };
  writeEnding(pen, job, findAndOffer(pen, job, { ...trip, scenario: job.scenario, of: 'first' }));
}

const ON_SITE_MINUTES = usualMinutes.end;

/** Some evenings run late, so that it is the next day in UTC when the customer says yes. */
function minutesLate({ plan }: Pen, { slot, number }: Job): number {
  if (!hasTurns(plan) || !slot.onCall) return 0;
  const random = randomFor(plan.seed, 'late', number);
  return random.chance(0.6) ? random.int(60, 90) : 0;
}

function writeEnding(pen: Pen, job: Job, trip: Trip): void {
  const { visit, arrivedAt, outcome } = trip;
  const { technician } = visit;
  const atEnd = minutesAfter(arrivedAt, ON_SITE_MINUTES);
  const start = [booked(job), step('in_progress', arrivedAt, technician)];
  const waiting = step('waiting_for_answer' as const, atEnd, technician);
  if (job.wrong?.acts?.cancels) {
    writeCancelled(pen, job, trip, [...start, step('cancelled', atEnd, job.dispatcher)]);
  } else if (job.turn?.name === 'two_calls' && job.slot.later) {
    writeSecondCall(pen, job, trip, [...start, waiting], job.slot.later);
  } else if (outcome !== undefined && outcome !== 'accepted') {
    writeUnagreed(pen, job, trip, [...start, waiting]);
  } else if (isPlain(job) && job.slot.later && pen.random.chance(0.3)) {
    const waiting = step('waiting_for_part', atEnd, technician);
    writeReturn(pen, job, trip, [...start, waiting], job.slot.later);
  } else {
    writeDone(pen, job, trip, start);
  }
}

function isPlain({ wrong, turn, asksAgain }: Job): boolean {
  return wrong === undefined && turn === undefined && !asksAgain;
}

/** Somebody was there, and worked; then the ticket was called off as if nobody had been. */
function writeCancelled(pen: Pen, job: Job, trip: Trip, steps: Step<TicketState>[]): void {
  workAt(pen, job, trip, trip.visit, trip.arrivedAt, usualMinutes.work);
  writeTicketRow(pen, job, steps, 'Called off.');
  tell(pen, job, { chargedCents: 0, rightCents: 0 });
}

function writeUnagreed(pen: Pen, job: Job, trip: Trip, soFar: Step<TicketState>[]): void {
  const isOver = trip.outcome === 'declined' || trip.outcome === 'withdrawn';
  if (!isOver) {
    writeTicketRow(pen, job, soFar);
    return;
  }
  const closedAt = minutesAfter(trip.arrivedAt, ON_SITE_MINUTES + 5);
  writeTicketRow(pen, job, [...soFar, step('closed', closedAt, job.dispatcher)]);
  writeClosing(pen, job, {
    ...firstClosing(job, trip, closedAt, toBill(pen, job, [alone(trip)])),
    complaintGone: 'no',
    noReadingsWhy: 'Nothing was mended.',
    conditionLeft: 'Switched off at the thermostat.',
  });
}

function writeDone(pen: Pen, job: Job, trip: Trip, soFar: Step<TicketState>[]): void {
  const { visit, arrivedAt } = trip;
  const went = workAll(pen, job, trip);
  if (job.scenario.leave) {
    recordEvidence(
      pen,
      visit,
      'left',
      minutesAfter(arrivedAt, usualMinutes.leave),
      job.scenario.leave,
    );
  }
  const atEnd = minutesAfter(arrivedAt, ON_SITE_MINUTES);
  const again = secondOfTrip(pen, job, trip, atEnd);
  const doneAt = again?.atEnd ?? atEnd;
  const done = step('work_complete', doneAt, visit.technician);
  if (isPlain(job) && pen.random.chance(0.03)) {
    writeTicketRow(pen, job, [...soFar, done]);
    return;
  }
  const closedAt = minutesAfter(doneAt, 5);
  const steps = [...soFar, done, step('closed', closedAt, job.dispatcher)];
  const all = [went, ...(again ? [again.went] : [])];
  const bill = toBill(pen, job, all);
  const memo = memoOfTurn(job, trip);
  const closing = { ...firstClosing(job, trip, closedAt, bill), memo };
  const { later } = job.slot;
  const mayComeBack = isPlain(job) && wasMendedWhole(trip, went.outcomes);
  const issued = writeClosing(pen, job, closing);
  if (later && mayComeBack && later.end <= pen.plan.present && pen.random.chance(0.14)) {
    writeCallback(pen, job, trip, { soFar: steps, later, closingId: issued.closingId });
    return;
  }
  writeTicketRow(pen, job, steps);
  tellBill(pen, job, trip, { went: all, issued, memo });
}

function wasMendedWhole({ findings }: Trip, { undoneFindingIds }: Outcomes): boolean {
  return findings.length > 0 && undoneFindingIds.length === 0;
}

/** Coming back with the part: no second fee. */
function writeReturn(
  pen: Pen,
  job: Job,
  trip: Trip,
  soFar: Step<TicketState>[],
  later: NonNullable<Slot['later']>,
): void {
  const { technician } = trip.visit;
  const bookedAt = minutesAfter(soFar.at(-1)?.at ?? later.start, 3);
  const steps = [...soFar, step('scheduled', bookedAt, job.dispatcher)];
  const booking = { purpose: 'return', at: bookedAt } as const;
  const terms = { ...termsAt(pen, later.start, bookedAt), feeCents: 0 };
  if (later.end > pen.plan.present) {
    writeTicketRow(pen, job, steps);
    writeVisitRow(pen, job, later, terms, [], booking);
    return;
  }
  const arrivedAt = minutesAfter(later.start, 5);
  const atEnd = minutesAfter(arrivedAt, 45);
  const closedAt = minutesAfter(atEnd, 5);
  writeTicketRow(pen, job, [
    ...steps,
    step('in_progress', arrivedAt, technician),
    step('work_complete', atEnd, technician),
    step('closed', closedAt, job.dispatcher),
  ]);
  const returnId = writeVisitRow(
    pen,
    job,
    later,
    terms,
    visitSteps(later, arrivedAt, atEnd, technician),
    booking,
  );
  const again = { ...trip.visit, id: returnId };
  const outcomes = workAt(pen, job, trip, again, arrivedAt, 20);
  if (job.scenario.leave) {
    recordEvidence(pen, again, 'left', minutesAfter(arrivedAt, 30), job.scenario.leave);
  }
  const bill = toBill(pen, job, [alone(trip, outcomes)]);
  const closing = firstClosing(job, trip, closedAt, bill);
  writeClosing(pen, job, { ...closing, daysThere: [trip.arrivedAt, arrivedAt] });
}

interface CameBack {
  soFar: Step<TicketState>[];
  later: NonNullable<Slot['later']>;
  closingId: string;
}

/** The same trouble is back, or seems so: no fee, and nothing for mending it again. */
function writeCallback(
  pen: Pen,
  job: Job,
  first: Trip,
  { soFar, later, closingId }: CameBack,
): void {
  const { technician } = first.visit;
  const reopenedAt = minutesAfter(later.start, -9 * 60);
  const bookedAt = minutesAfter(reopenedAt, 4);
  const arrivedAt = minutesAfter(later.start, 5);
  const atEnd = minutesAfter(arrivedAt, 50);
  const closedAt = minutesAfter(atEnd, 5);
  writeTicketRow(pen, job, [
    ...soFar,
    step('new', reopenedAt, job.dispatcher),
    step('scheduled', bookedAt, job.dispatcher),
    step('in_progress', arrivedAt, technician),
    step('work_complete', atEnd, technician),
    step('closed', closedAt, job.dispatcher),
  ]);
  writeReopening(pen, job, closingId, reopenedAt);
  const terms = { ...termsAt(pen, later.start, bookedAt), feeCents: 0 };
  const booking = { purpose: 'callback', at: bookedAt } as const;
  const id = writeVisitRow(
    pen,
    job,
    later,
    terms,
    visitSteps(later, arrivedAt, atEnd, technician),
    booking,
  );
  const visit = { ...first.visit, id, book: bookAt(pen.plan.books, arrivedAt) };
  const trip = pen.random.chance(0.5)
    ? findAndOffer(pen, job, {
        ...{ visit, terms, arrivedAt, purpose: 'callback', minutes: usualMinutes },
        ...{ scenario: job.scenario, of: 'callback' },
      })
    : undefined;
  const outcomes = trip ? workAt(pen, job, trip, visit, arrivedAt, 41) : nothingUndone;
  const why = trip ? 'What was read before holds.' : 'It ran as it should; nothing was done.';
  writeClosing(pen, job, {
    sequence: 2,
    at: closedAt,
    complaintGone: 'yes',
    noReadingsWhy: why,
    conditionLeft: 'Running.',
    daysThere: [first.arrivedAt, arrivedAt],
    toBill: { work: trip ? workOf(alone(trip, outcomes)) : [], fees: [] },
  });
}

function writeReopening(
  pen: Pen,
  { ticketId, scenario, dispatcher }: Job,
  closingId: string,
  at: Date,
): void {
  const id = pen.makeId(at);
  pen.add('ticket_callback', {
    ...{ id, ticketId, closingId, complaint: scenario.complaint },
    reopenedAt: at,
    reopenedById: dispatcher.id,
  });
  pen.note(at, dispatcher, {
    event: 'ticket.called_back',
    subject: { kind: 'ticket', id: ticketId },
    after: { closingId },
  });
}
