import { findAndOffer, type Trip, usualMinutes } from '../find-and-offer.ts';
import type { Job } from '../job.ts';
import type { Pen } from '../pen.ts';
import { alone, type Went } from '../to-bill.ts';
import { workAt } from '../work-at.ts';

/** The work of a trip, with what was found besides and agreed to as a change order. */
export function workAll(pen: Pen, job: Job, trip: Trip): Went {
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
