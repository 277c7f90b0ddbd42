import { findAndOffer, type Trip } from '../find-and-offer.ts';
import { type Job, termsAt, writeVisitRow } from '../job.ts';
import { minutesAfter } from '../minutes-after.ts';
import type { Pen } from '../pen.ts';
import { bookAt } from '../price-books.ts';
import { alone, type Went } from '../to-bill.ts';
import { visitSteps } from '../visit-steps.ts';
import { workAt } from '../work-at.ts';

/** Back at the same place within the hour, for something else: the trip has one fee. */
export function secondOfTrip(
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

/** Of a visit for which there is an hour. */
export const QUICK_MINUTES = { read: 3, find: 13, draft: 16, work: 32, leave: 36, end: 45 };
