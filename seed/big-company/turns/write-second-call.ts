import type { TicketState } from '../../../src/lifecycles/index.ts';
import type { Slot } from '../calendar.ts';
import { findAndOffer, type Trip } from '../find-and-offer.ts';
import { firstClosing } from '../first-closing.ts';
import { type Job, type Step, step, termsOf, writeTicketRow, writeVisitRow } from '../job.ts';
import { minutesAfter } from '../minutes-after.ts';
import type { Pen } from '../pen.ts';
import { bookAt } from '../price-books.ts';
import { tellBill } from '../tell-bill.ts';
import { alone, toBill } from '../to-bill.ts';
import { visitSteps } from '../visit-steps.ts';
import { workAt } from '../work-at.ts';
import { writeClosing } from '../write-closing.ts';
import { QUICK_MINUTES } from './second-of-trip.ts';

/** Days after nothing was agreed to, the customer calls for another trip, and says yes. */
export function writeSecondCall(
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
  const closing = firstClosing(job, trip, closedAt, toBill(pen, job, all));
  const issued = writeClosing(pen, job, {
    ...closing,
    noReadingsWhy: 'Nothing of it can be measured again.',
    daysThere: [first.arrivedAt, arrivedAt],
  });
  tellBill(pen, job, trip, { went: all, issued, memo: undefined });
}
