import { invoiceTotal } from '../../src/billing/index.ts';
import type { TicketState } from '../../src/lifecycles/index.ts';
import { currentPricingRuleset } from '../../src/pricing/index.ts';
import {
  billOfJob,
  type FeeToBill,
  type JobBill,
  type ToBill,
  type WorkToBill,
} from './bill-of-job.ts';
import type { Slot } from './calendar.ts';
import { hasTurns } from './company-plan.ts';
import { findAndOffer, type Trip, usualMinutes } from './find-and-offer.ts';
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
import { feeInputsOf } from './pricing-inputs-of.ts';
import { randomFor } from './random.ts';
import { memoOfTurn } from './turns/memo-of-turn.ts';
import { type Closing, type Issued, writeClosing } from './write-closing.ts';
import { type FieldVisit, recordEvidence } from './write-evidence.ts';
import { backOf } from './write-memo.ts';
import { type Outcomes, writeWork } from './write-work.ts';
import type { Truth } from './wrongs/truth.ts';
import { actsOn, bendsRecords } from './wrongs/wrong.ts';

const nothingUndone: Outcomes = { undoneFindingIds: [], leftOutKeys: [] };

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
    ...firstClosing(pen, job, trip, closedAt, toBill(pen, job, [{ ...alone(trip) }])),
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
  const closing = { ...firstClosing(pen, job, trip, closedAt, bill), memo };
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

/** What was agreed to at a trip, what became of it, and the change orders to it. */
interface Went {
  trip: Trip;
  outcomes: Outcomes;
  changes: readonly Went[];
}

function alone(trip: Trip, outcomes: Outcomes = nothingUndone): Went {
  return { trip, outcomes, changes: [] };
}

/** The work of a trip, with what was found besides and agreed to as a change order. */
function workAll(pen: Pen, job: Job, trip: Trip): Went {
  const { visit, arrivedAt } = trip;
  const { sold } = trip.offered;
  const { name, further } = job.turn ?? {};
  const isChanged = name === 'change_order' || name === 'mended_again';
  if (!isChanged || further === undefined || sold === undefined) {
    return alone(trip, workAt(pen, job, trip, visit, arrivedAt, usualMinutes.work));
  }
  // What went off again had been put back on before.
  const first =
    name === 'mended_again'
      ? workAt(pen, job, trip, visit, arrivedAt, WORK_FIRST_MINUTES)
      : undefined;
  const change = findAndOffer(pen, job, {
    visit: { ...visit, machine: further.machine },
    ...{ terms: trip.terms, arrivedAt, purpose: 'call', minutes: CHANGE_MINUTES },
    ...{ scenario: further.scenario, of: 'further' },
    ...(name === 'mended_again' && { recalled: faultsOf(trip) }),
    changes: {
      ...{ quoteId: sold.quoteId, quoteNumber: sold.quoteNumber },
      chargeable: sold.inputs.visitFee.chargeable,
      agreedCents: totalOf(sold.lines),
      accepted: [sold.lines],
    },
  });
  const outcomes = first ?? workAt(pen, job, trip, visit, arrivedAt, usualMinutes.work);
  const changed = workAt(pen, job, change, change.visit, arrivedAt, CHANGE_MINUTES.work);
  return { trip, outcomes, changes: [alone(change, changed)] };
}

const WORK_FIRST_MINUTES = 44;
const CHANGE_MINUTES = { read: 46, find: 58, draft: 61, work: 72, leave: 78, end: 90 };

function faultsOf({ findings }: Trip): ReadonlySet<string> {
  return new Set(findings.map(({ faultCode }) => faultCode));
}

function totalOf(lines: readonly { amountCents: number }[]): number {
  return lines.reduce((sum, { amountCents }) => sum + amountCents, 0);
}

/** Back at the same place within the hour, for something else: the trip has one fee. */
function secondOfTrip(
  pen: Pen,
  job: Job,
  first: Trip,
  after: Date,
): { went: Went; atEnd: Date } | undefined {
  const { name, further } = job.turn ?? {};
  if (name !== 'same_trip' || further === undefined) return undefined;
  const { slot, scenario: _, ...same } = job;
  const { technician, place } = first.visit;
  const window = { start: slot.end, end: minutesAfter(slot.end, 60) };
  const agreedAt = minutesAfter(after, -1);
  const arrivedAt = minutesAfter(window.start, 5);
  const atEnd = minutesAfter(arrivedAt, QUICK_MINUTES.end);
  const terms = {
    ...termsAt(pen, window.start, agreedAt),
    feeCents: 0,
    sameTripAs: first.visit.id,
  };
  const steps = visitSteps(window, arrivedAt, atEnd, technician);
  const booking = { purpose: 'call', at: agreedAt } as const;
  const id = writeVisitRow(pen, job, window, terms, steps, booking);
  const book = bookAt(pen.plan.books, arrivedAt);
  const visit = { id, ticketId: same.ticketId, technician, place, book, machine: further.machine };
  const trip = findAndOffer(pen, job, {
    ...{ visit, terms, arrivedAt, purpose: 'call', minutes: QUICK_MINUTES },
    ...{ scenario: further.scenario, of: 'further' },
  });
  const outcomes = workAt(pen, job, trip, visit, arrivedAt, QUICK_MINUTES.work);
  return { went: alone(trip, outcomes), atEnd };
}

const QUICK_MINUTES = { read: 3, find: 13, draft: 16, work: 32, leave: 36, end: 45 };

/** Days after nothing was agreed to, the customer calls for another trip, and says yes. */
function writeSecondCall(
  pen: Pen,
  job: Job,
  first: Trip,
  soFar: Step<TicketState>[],
  later: NonNullable<Slot['later']>,
): void {
  const { technician } = first.visit;
  const agreedAt = minutesAfter(later.start, -8 * 60);
  const arrivedAt = minutesAfter(later.start, 5);
  const atEnd = minutesAfter(arrivedAt, QUICK_MINUTES.end);
  const closedAt = minutesAfter(atEnd, 5);
  const terms = termsOf(pen, { ...job, agreedAt, windowStart: later.start });
  const steps = visitSteps(later, arrivedAt, atEnd, technician);
  const id = writeVisitRow(pen, job, later, terms, steps, { purpose: 'call', at: agreedAt });
  const visit = { ...first.visit, id, book: bookAt(pen.plan.books, arrivedAt) };
  const trip = findAndOffer(pen, job, {
    ...{ visit, terms, arrivedAt, purpose: 'call', minutes: QUICK_MINUTES },
    ...{ scenario: job.scenario, of: 'further' },
  });
  const outcomes = workAt(pen, job, trip, visit, arrivedAt, QUICK_MINUTES.work);
  writeTicketRow(pen, job, [
    ...soFar,
    step('scheduled', agreedAt, job.dispatcher),
    step('in_progress', arrivedAt, technician),
    step('work_complete', atEnd, technician),
    step('closed', closedAt, job.dispatcher),
  ]);
  const all = [alone(trip, outcomes), alone(first)];
  const closing = firstClosing(pen, job, trip, closedAt, toBill(pen, job, all));
  const issued = writeClosing(pen, job, {
    ...closing,
    noReadingsWhy: 'Nothing of it can be measured again.',
    daysThere: [first.arrivedAt, arrivedAt],
  });
  tellBill(pen, job, trip, { went: all, issued, memo: undefined });
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
  const closing = firstClosing(pen, job, trip, closedAt, bill);
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

function visitSteps(
  window: { start: Date },
  arrivedAt: Date,
  atEnd: Date,
  technician: FieldVisit['technician'],
) {
  return [
    step('on_the_way' as const, window.start, technician),
    step('on_site' as const, arrivedAt, technician),
    step('finished' as const, atEnd, technician),
  ];
}

/** What was done at a visit of what was agreed to at a trip. */
function workAt(
  pen: Pen,
  { wrong }: Job,
  { offered: { sold }, findings, found, scenario, of }: Trip,
  visit: FieldVisit,
  arrivedAt: Date,
  minutes: number,
): Outcomes {
  if (sold === undefined) return nothingUndone;
  const at = minutesAfter(arrivedAt, minutes);
  const acts = actsOn(wrong, of);
  return writeWork(pen, { visit, findings, arrivedAt, sold, scenario, found, at, acts });
}

function firstClosing(_pen: Pen, job: Job, { arrivedAt }: Trip, at: Date, bill: ToBill): Closing {
  return {
    sequence: 1,
    at,
    complaintGone: 'yes',
    noReadingsWhy: job.scenario.leave ? null : 'Nothing of it can be measured again.',
    conditionLeft: 'Running.',
    daysThere: [arrivedAt],
    toBill: bill,
  };
}

/** The fee of a trip stands alone where nobody said yes, unless our own work came back. */
function toBill(pen: Pen, job: Job, all: readonly Went[]): ToBill {
  return {
    work: all.flatMap(workOf),
    fees: all.flatMap(({ trip }) => feeAlone(pen, job, trip)),
  };
}

function workOf({ trip, outcomes, changes }: Went): WorkToBill[] {
  const { sold } = trip.offered;
  return sold === undefined ? [] : [{ sold, outcomes, changes: changes.flatMap(workOf) }];
}

function feeAlone(
  pen: Pen,
  { wrong, place: { jurisdiction } }: Job,
  { visit, terms, arrivedAt, recalled, offered: { sold, told }, of }: Trip,
): FeeToBill[] {
  const acts = actsOn(wrong, of);
  const isBilledApart = acts.chargesFeeAgain === true || acts.billsFeeApart === true;
  const isOwed = sold === undefined ? recalled.size === 0 : isBilledApart;
  if (!isOwed) return [];
  const isTold = told?.visitFee.chargeable === true;
  const inputs = isTold
    ? told
    : feeInputsOf(
        pen.plan,
        { book: visit.book, terms: withFee(pen, terms, visit), jurisdiction },
        arrivedAt,
      );
  const { version: rulesetVersion } = currentPricingRuleset;
  return [{ visitId: visit.id, arrivedAt, inputs, rulesetVersion }];
}

/** Who bills a fee that there is none of takes the usual one. */
function withFee({ plan }: Pen, terms: Trip['terms'], { book }: FieldVisit): Trip['terms'] {
  if (terms.feeCents > 0 || !hasTurns(plan)) return terms;
  const feeCents = book.periods.find(({ code }) => code === terms.periodCode)?.visitFeeCents ?? 0;
  return { ...terms, feeCents };
}

interface Billed {
  went: readonly Went[];
  issued: Issued;
  memo: Closing['memo'];
}

/**
 * Says what was billed wrongly, with what the same job comes to when it is billed as it should have
 * been. A price that was to be bent and came to no more than the right one is no wrong.
 */
function tellBill(pen: Pen, job: Job, trip: Trip, { went, issued, memo }: Billed): void {
  const { sold, told } = trip.offered;
  if (job.asksAgain) tellAsked(pen, job, trip, issued);
  if (job.wrong === undefined || sold === undefined || told === undefined) return;
  const documents = billOfJob(rightBill(pen, job, trip, went), 'less_what_was_left_out');
  const rightCents = invoiceTotal(documents).totalCents - givenBesides(job, documents, memo);
  const chargedCents = issued.totalCents - issued.creditedCents;
  if (chargedCents === rightCents && !bendsRecords(job.wrong)) return;
  tell(pen, job, { chargedCents, rightCents });
}

/**
 * What was given back as goodwill of something that was billed rightly. Of what is too dear it counts
 * toward putting it right.
 */
function givenBesides(
  { wrong }: Job,
  [document]: readonly JobBill[],
  memo: Closing['memo'],
): number {
  if (memo === undefined || document === undefined) return 0;
  const isOfWrong = memo.kind === 'goodwill' && memo.ofClass === wrong?.bendsClass;
  const given = isOfWrong ? undefined : backOf(document, memo);
  return given ? totalOf(given.credits) + given.taxCents : 0;
}

function rightBill(pen: Pen, job: Job, trip: Trip, went: readonly Went[]): ToBill {
  const { wrong, ...same } = job;
  const honestJob: Job = { ...same, wrong: undefined };
  if (wrong?.onlyFeeOwed) {
    return toBill(pen, honestJob, [
      alone({ ...trip, offered: { ...trip.offered, sold: undefined } }),
    ]);
  }
  return toBill(pen, honestJob, went.map(honestly));
}

function honestly({ trip, outcomes, changes }: Went): Went {
  const { sold } = trip.offered;
  const honest = sold && { ...sold, ...sold.honest };
  return {
    trip: { ...trip, offered: { ...trip.offered, sold: honest } },
    outcomes,
    changes: changes.map(honestly),
  };
}

/** A part that failed again within the year is honest, and somebody should look at it all the same. */
function tellAsked(pen: Pen, job: Job, { offered: { sold } }: Trip, issued: Issued): void {
  const isCharged = sold?.lines.some(({ kind, amountCents }) => kind === 'part' && amountCents > 0);
  if (!isCharged) return;
  const { totalCents: chargedCents } = issued;
  tellOf(pen, job, { kind: 'part_failed_again', chargedCents, rightCents: chargedCents });
}

function tell(pen: Pen, job: Job, amounts: Pick<Truth, 'chargedCents' | 'rightCents'>): void {
  const { wrong } = job;
  if (wrong === undefined) return;
  const { kind, shape } = wrong;
  tellOf(pen, job, { kind, ...(shape && { shape }), ...amounts });
}

function tellOf(
  pen: Pen,
  { ticketId, number: ticketNumber, slot }: Job,
  told: Pick<Truth, 'kind' | 'shape' | 'chargedCents' | 'rightCents'>,
): void {
  const technicianId = technicianOf(pen, slot).id;
  pen.tell({ ...told, ticketId, ticketNumber, technicianId });
}
