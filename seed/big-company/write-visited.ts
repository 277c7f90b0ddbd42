import { invoiceTotal } from '../../src/billing/index.ts';
import { localDay } from '../../src/company/index.ts';
import type { WholeFinding } from '../../src/evidence/index.ts';
import type { TicketState } from '../../src/lifecycles/index.ts';
import { currentPricingRuleset } from '../../src/pricing/index.ts';
import { billOfJob, type ToBill } from './bill-of-job.ts';
import type { Slot } from './calendar.ts';
import { recalledFaults } from './history.ts';
import {
  booked,
  type Job,
  type Step,
  step,
  technicianOf,
  termsAt,
  writeTicketRow,
  writeVisitRow,
} from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import { bookAt } from './price-books.ts';
import { feeInputsOf, type VisitTerms } from './pricing-inputs-of.ts';
import type { Scenario } from './scenarios.ts';
import { type Closing, writeClosing } from './write-closing.ts';
import { type FieldVisit, type Recorded, recordEvidence, writeFindings } from './write-evidence.ts';
import { type Offered, type QuoteOutcome, writeQuote } from './write-quote.ts';
import { type Outcomes, writeWork } from './write-work.ts';
import { inventReadings } from './wrongs/invent-readings.ts';
import type { Truth } from './wrongs/truth.ts';
import { bendsRecords } from './wrongs/wrong.ts';

/** A trip as it stands once the quote is answered. */
interface Trip {
  visit: FieldVisit;
  terms: VisitTerms;
  arrivedAt: Date;
  found: Recorded;
  findings: readonly WholeFinding[];
  recalled: ReadonlySet<string>;
  outcome: QuoteOutcome | undefined;
  offered: Offered;
}

const nothingUndone: Outcomes = { undoneFindingIds: [], leftOutKeys: [] };
const nothingOffered: Offered = { told: undefined, sold: undefined };

/** Writes a ticket whose technician was there: evidence, findings, quote, and how it went on. */
export function writeVisited(pen: Pen, job: Job): void {
  const { slot } = job;
  const technician = technicianOf(pen, slot);
  const arrivedAt = minutesAfter(slot.start, pen.random.between(-5, 25));
  const terms = termsAt(pen, slot.start);
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
  writeEnding(pen, job, findAndOffer(pen, job, visit, { terms, arrivedAt, purpose: 'call' }));
}

const ON_SITE_MINUTES = 90;

/** What was found at a trip, and what was offered and answered there. */
function findAndOffer(
  pen: Pen,
  { place, scenario, wrong, machine }: Job,
  visit: FieldVisit,
  { terms, arrivedAt, purpose }: Pick<Trip, 'terms' | 'arrivedAt'> & Pick<QuoteAsked, 'purpose'>,
): Trip {
  const acts = purpose === 'call' ? (wrong?.acts ?? {}) : {};
  const record = acts.inventsReadings ? inventReadings : scenario.record;
  const readFrom = minutesAfter(arrivedAt, acts.readsLate ? 45 : 6);
  const found = recordEvidence(pen, visit, 'found', readFrom, record);
  const findings = writeFindings(pen, visit, found, scenario, minutesAfter(arrivedAt, 24), acts);
  const day = localDay(arrivedAt, pen.plan.company.timeZone);
  const back = recalledFaults(pen.history.of(machine.row.systemId), { arrivedAt, day });
  const recalled = new Set(
    scenario.findings.flatMap(({ fault }) => (back.has(fault) ? fault : [])),
  );
  const outcome = outcomeOf(pen, scenario, purpose === 'callback' || wrong !== undefined);
  const asked = { visit, terms, place, findings, observations: found.observations, recalled };
  const offered =
    outcome === undefined
      ? nothingOffered
      : writeQuote(pen, {
          ...asked,
          ...{ options: scenario.options, outcome, purpose },
          wrong: purpose === 'call' ? wrong : undefined,
          isRevised: outcome !== 'draft' && pen.random.chance(0.06),
          draftedAt: minutesAfter(arrivedAt, 30),
        });
  return { visit, terms, arrivedAt, found, findings, recalled, outcome, offered };
}

type QuoteAsked = Parameters<typeof writeQuote>[1];

/** Undefined where there is nothing to quote. */
function outcomeOf(
  pen: Pen,
  { findings, options }: Scenario,
  isAgreed: boolean,
): QuoteOutcome | undefined {
  if (options.length === 0) return undefined;
  const draw = pen.random.between(0, 100);
  // Who only owes the fee says yes, and so does who owes nothing.
  if (isAgreed || findings.length === 0 || draw < 72) return 'accepted';
  if (draw < 86) return 'declined';
  if (draw < 96) return 'unanswered';
  return draw < 98 ? 'withdrawn' : 'draft';
}

function writeEnding(pen: Pen, job: Job, trip: Trip): void {
  const { visit, arrivedAt, outcome } = trip;
  const { technician } = visit;
  const atEnd = minutesAfter(arrivedAt, ON_SITE_MINUTES);
  const start = [booked(job), step('in_progress', arrivedAt, technician)];
  if (job.wrong?.acts?.cancels) {
    writeCancelled(pen, job, trip, [...start, step('cancelled', atEnd, job.dispatcher)]);
  } else if (outcome !== undefined && outcome !== 'accepted') {
    writeUnagreed(pen, job, trip, [...start, step('waiting_for_answer', atEnd, technician)]);
  } else if (job.slot.later && job.wrong === undefined && pen.random.chance(0.3)) {
    const waiting = step('waiting_for_part', atEnd, technician);
    writeReturn(pen, job, trip, [...start, waiting], job.slot.later);
  } else {
    writeDone(pen, job, trip, start);
  }
}

/** Somebody was there, and worked; then the ticket was called off as if nobody had been. */
function writeCancelled(pen: Pen, job: Job, trip: Trip, steps: Step<TicketState>[]): void {
  workAt(pen, job, trip, trip.visit, trip.arrivedAt, 70);
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
    ...firstClosing(pen, job, trip, closedAt, nothingUndone),
    complaintGone: 'no',
    noReadingsWhy: 'Nothing was mended.',
    conditionLeft: 'Switched off at the thermostat.',
  });
}

function writeDone(pen: Pen, job: Job, trip: Trip, soFar: Step<TicketState>[]): void {
  const { visit, arrivedAt } = trip;
  const outcomes = workAt(pen, job, trip, visit, arrivedAt, 70);
  if (job.scenario.leave) {
    recordEvidence(pen, visit, 'left', minutesAfter(arrivedAt, 78), job.scenario.leave);
  }
  const atEnd = minutesAfter(arrivedAt, ON_SITE_MINUTES);
  const done = step('work_complete', atEnd, visit.technician);
  if (job.wrong === undefined && pen.random.chance(0.03)) {
    writeTicketRow(pen, job, [...soFar, done]);
    return;
  }
  const closedAt = minutesAfter(atEnd, 5);
  const steps = [...soFar, done, step('closed', closedAt, job.dispatcher)];
  const closing = firstClosing(pen, job, trip, closedAt, outcomes);
  const { later } = job.slot;
  const mayComeBack = job.wrong === undefined && wasMendedWhole(trip, outcomes);
  const { closingId, totalCents } = writeClosing(pen, job, closing);
  if (later && mayComeBack && later.end <= pen.plan.present && pen.random.chance(0.14)) {
    writeCallback(pen, job, trip, { soFar: steps, later, closingId });
    return;
  }
  writeTicketRow(pen, job, steps);
  tellBill(pen, job, trip, { chargedCents: totalCents, outcomes });
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
  const terms = { ...termsAt(pen, later.start), feeCents: 0 };
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
  const closing = firstClosing(pen, job, trip, closedAt, outcomes);
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
  const terms = { ...termsAt(pen, later.start), feeCents: 0 };
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
    ? findAndOffer(pen, job, visit, { terms, arrivedAt, purpose: 'callback' })
    : undefined;
  const outcomes = trip ? workAt(pen, job, trip, visit, arrivedAt, 41) : nothingUndone;
  const why = trip ? 'What was read before holds.' : 'It ran as it should; nothing was done.';
  writeClosing(pen, job, {
    sequence: 2,
    at: closedAt,
    complaintGone: 'yes',
    noReadingsWhy: why,
    conditionLeft: 'Running.',
    trip: { visitId: id, arrivedAt },
    daysThere: [first.arrivedAt, arrivedAt],
    toBill: { sold: trip?.offered.sold, outcomes, fee: undefined },
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
  { scenario, wrong }: Job,
  { offered: { sold }, findings, found }: Trip,
  visit: FieldVisit,
  arrivedAt: Date,
  minutes: number,
): Outcomes {
  if (sold === undefined) return nothingUndone;
  const at = minutesAfter(arrivedAt, minutes);
  const acts = wrong?.acts ?? {};
  return writeWork(pen, { visit, findings, arrivedAt, sold, scenario, found, at, acts });
}

function firstClosing(pen: Pen, job: Job, trip: Trip, at: Date, outcomes: Outcomes): Closing {
  const { visit, arrivedAt } = trip;
  return {
    sequence: 1,
    at,
    complaintGone: 'yes',
    noReadingsWhy: job.scenario.leave ? null : 'Nothing of it can be measured again.',
    conditionLeft: 'Running.',
    trip: { visitId: visit.id, arrivedAt },
    daysThere: [arrivedAt],
    toBill: toBill(pen, job, trip, outcomes),
  };
}

/** The fee stands alone where nobody said yes, unless our own work came back. */
function toBill(
  pen: Pen,
  { wrong, place: { jurisdiction } }: Job,
  trip: Trip,
  outcomes: Outcomes,
): Closing['toBill'] {
  const { visit, terms, arrivedAt, recalled, offered } = trip;
  const { sold, told } = offered;
  const isOwed = sold === undefined ? recalled.size === 0 : wrong?.acts?.chargesFeeAgain === true;
  if (!isOwed) return { sold, outcomes, fee: undefined };
  const inputs =
    told ?? feeInputsOf(pen.plan, { book: visit.book, terms, jurisdiction }, arrivedAt);
  return { sold, outcomes, fee: { inputs, rulesetVersion: currentPricingRuleset.version } };
}

/**
 * Says what was billed wrongly, with what the same job comes to when it is billed as it should have
 * been. A price that was to be bent and came to no more than the right one is no wrong.
 */
function tellBill(
  pen: Pen,
  job: Job,
  { offered: { sold, told } }: Trip,
  { chargedCents, outcomes }: { chargedCents: number; outcomes: Outcomes },
): void {
  if (job.wrong === undefined || sold === undefined || told === undefined) return;
  const { rulesetVersion } = sold;
  const right: ToBill = job.wrong.onlyFeeOwed
    ? { sold: undefined, outcomes, fee: { inputs: told, rulesetVersion } }
    : { sold: { ...sold, ...sold.honest }, outcomes, fee: undefined };
  const documents = billOfJob(right, 'less_what_was_left_out');
  const { totalCents: rightCents } = invoiceTotal(documents);
  if (chargedCents === rightCents && !bendsRecords(job.wrong)) return;
  tell(pen, job, { chargedCents, rightCents });
}

function tell(
  pen: Pen,
  { wrong, ticketId, number: ticketNumber, slot }: Job,
  amounts: Pick<Truth, 'chargedCents' | 'rightCents'>,
): void {
  if (wrong === undefined) return;
  const technicianId = technicianOf(pen, slot).id;
  pen.tell({ kind: wrong.kind, ticketId, ticketNumber, technicianId, ...amounts });
}
