import type { TicketState } from '../../src/lifecycles/index.ts';
import type { Slot } from './calendar.ts';
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
import type { Scenario } from './scenarios.ts';
import { type FieldVisit, recordEvidence, writeFindings } from './write-evidence.ts';
import { type QuoteOutcome, writeQuote } from './write-quote.ts';

/** Writes a ticket whose technician was there: evidence, findings, quote, and how it went on. */
export function writeVisited(pen: Pen, job: Job): void {
  const { slot, scenario } = job;
  const technician = technicianOf(pen, slot);
  const arrivedAt = minutesAfter(slot.start, pen.random.between(-5, 25));
  const terms = termsAt(pen, slot.start);
  const visitId = writeVisitRow(pen, job, slot, terms, [
    step('on_the_way', minutesAfter(arrivedAt, -20), technician),
    step('on_site', arrivedAt, technician),
    step('finished', minutesAfter(arrivedAt, 90), technician),
  ]);
  const visit: FieldVisit = {
    id: visitId,
    ticketId: job.ticketId,
    technician,
    machine: job.machine,
    place: job.place,
    book: bookAt(pen.plan.books, arrivedAt),
  };
  const found = recordEvidence(pen, visit, 'found', minutesAfter(arrivedAt, 6), scenario.record);
  const findings = writeFindings(pen, visit, found, scenario, minutesAfter(arrivedAt, 24));
  const outcome = scenario.options.length === 0 ? undefined : outcomeOf(pen, scenario);
  if (outcome !== undefined) {
    writeQuote(pen, {
      visit,
      terms,
      place: job.place,
      findings,
      observations: found.observations,
      options: scenario.options,
      outcome,
      isRevised: outcome !== 'draft' && pen.random.chance(0.06),
      draftedAt: minutesAfter(arrivedAt, 30),
    });
  }
  writeEnding(pen, job, visit, outcome, arrivedAt);
}

function outcomeOf(pen: Pen, { findings }: Scenario): QuoteOutcome {
  const draw = pen.random.between(0, 100);
  // Who only owes the fee says yes.
  if (findings.length === 0 || draw < 72) return 'accepted';
  if (draw < 86) return 'declined';
  if (draw < 96) return 'unanswered';
  return draw < 98 ? 'withdrawn' : 'draft';
}

function writeEnding(
  pen: Pen,
  job: Job,
  visit: FieldVisit,
  outcome: QuoteOutcome | undefined,
  arrivedAt: Date,
): void {
  const { technician } = visit;
  const atEnd = minutesAfter(arrivedAt, 90);
  const start = [booked(job), step('in_progress', arrivedAt, technician)];
  if (outcome !== undefined && outcome !== 'accepted') {
    const waiting = step('waiting_for_answer', atEnd, technician);
    const isClosed = outcome === 'declined' || outcome === 'withdrawn';
    const closed = isClosed ? [step('closed', minutesAfter(atEnd, 5), job.dispatcher)] : [];
    writeTicketRow(pen, job, [...start, waiting, ...closed]);
  } else if (job.slot.later !== undefined && pen.random.chance(0.3)) {
    const waiting = step('waiting_for_part', atEnd, technician);
    writeReturn(pen, job, visit, [...start, waiting], job.slot.later);
  } else {
    writeDone(pen, job, visit, start, arrivedAt);
  }
}

function writeDone(
  pen: Pen,
  job: Job,
  visit: FieldVisit,
  soFar: Step<TicketState>[],
  arrivedAt: Date,
): void {
  if (job.scenario.leave) {
    recordEvidence(pen, visit, 'left', minutesAfter(arrivedAt, 78), job.scenario.leave);
  }
  const atEnd = minutesAfter(arrivedAt, 90);
  const done = step('work_complete', atEnd, visit.technician);
  const closed = step('closed', minutesAfter(atEnd, 5), job.dispatcher);
  writeTicketRow(pen, job, pen.random.chance(0.97) ? [...soFar, done, closed] : [...soFar, done]);
}

/** Coming back with the part: no second fee. */
function writeReturn(
  pen: Pen,
  job: Job,
  visit: FieldVisit,
  soFar: Step<TicketState>[],
  later: NonNullable<Slot['later']>,
): void {
  const { technician } = visit;
  const bookedAt = minutesAfter(soFar.at(-1)?.at ?? later.start, 3);
  const steps = [...soFar, step('scheduled', bookedAt, job.dispatcher)];
  const terms = { ...termsAt(pen, later.start), feeCents: 0 };
  if (later.end > pen.plan.present) {
    writeTicketRow(pen, job, steps);
    writeVisitRow(pen, job, later, terms, [], bookedAt);
    return;
  }
  const arrivedAt = minutesAfter(later.start, 5);
  const atEnd = minutesAfter(arrivedAt, 45);
  writeTicketRow(pen, job, [
    ...steps,
    step('in_progress', arrivedAt, technician),
    step('work_complete', atEnd, technician),
    step('closed', minutesAfter(atEnd, 5), job.dispatcher),
  ]);
  const returnId = writeVisitRow(
    pen,
    job,
    later,
    terms,
    [
      step('on_the_way', later.start, technician),
      step('on_site', arrivedAt, technician),
      step('finished', atEnd, technician),
    ],
    bookedAt,
  );
  if (job.scenario.leave) {
    const again = { ...visit, id: returnId };
    recordEvidence(pen, again, 'left', minutesAfter(arrivedAt, 30), job.scenario.leave);
  }
}
