import { localDay } from '../../src/company/index.ts';
import { type Batch, newBatch } from './batch.ts';
import type { Slot } from './calendar.ts';
import {
  type CompanyPlan,
  type CompanySize,
  hasTurns,
  planCompany,
  ticketsOf,
} from './company-plan.ts';
import { newHistory } from './history.ts';
import { minutesAfter } from './minutes-after.ts';
import { newChain, type Thread, withPen } from './pen.ts';
import { placeAt } from './place.ts';
import { randomFor } from './random.ts';
import { planReturns } from './turns/plan-returns.ts';
import { newReturns, type Returns } from './turns/returns.ts';
import { withTerms } from './turns/with-terms.ts';
import { writeOffice } from './write-office.ts';
import { writePlace } from './write-place.ts';
import { writeTicket } from './write-ticket.ts';
import { wrongPicker } from './wrongs/pick-wrong.ts';

/** The first number of tickets, quotes and receipts, as the database counts them too. */
export const firstNumber = 1_001;

/**
 * A whole invented company, some tickets at a time: the first batch also holds its office. What is
 * kept from batch to batch is a few counters, sixteen bytes for each place, and what was mended within the
 * last months.
 */
export function* bigCompany(size: CompanySize, ticketsPerBatch = 250): Generator<Batch> {
  const plan = planCompany(size);
  const thread: Thread = {
    chain: newChain(),
    // Invoices begin at one, because their numbers have no gaps.
    numbers: { quote: firstNumber, invoice: 1, receipt: firstNumber, memo: 1 },
    history: newHistory(),
    wrongs: wrongPicker(plan),
  };
  const returns = newReturns();
  const places = newPlaces(Math.ceil(plan.tickets / plan.ticketsPerPlace));
  let batch = newBatch();
  withPen(plan, batch, thread, -1, writeOffice);
  for (const ticket of ticketsOf(plan)) {
    withPen(plan, batch, thread, ticket.index, (pen) => {
      const dispatcher = pen.random.pick(plan.dispatchers);
      const { isNew, at, ...visited } = placeOf(plan, places, ticket, returns);
      if (isNew) writePlace(pen, visited.place, dispatcher);
      const number = firstNumber + ticket.index;
      writeTicket(pen, { ...ticket, ...visited, number, dispatcher });
      if (hasTurns(plan)) planReturns(pen, { ...ticket, ...visited, at }, returns);
    });
    if (ticket.index % TICKETS_PER_FORGETTING === 0) {
      thread.history.forgetBefore(minutesAfter(ticket.slot.call, -REMEMBERED_DAYS * 24 * 60));
    }
    if ((ticket.index + 1) % ticketsPerBatch === 0) {
      yield batch;
      batch = newBatch();
    }
  }
  yield batch;
}

/** Longer than any warranty on labor, and than a part that was put in again is asked about. */
const REMEMBERED_DAYS = 370;
const TICKETS_PER_FORGETTING = 5_000;

/** Of each place: when its first caller rang up, and until when somebody is or may still be there. */
interface Places {
  knownSince: Float64Array;
  busyUntil: Float64Array;
}

function newPlaces(count: number): Places {
  return { knownSince: new Float64Array(count), busyUntil: new Float64Array(count) };
}

/**
 * A new place for every few tickets; the others come from one of the places known by then where
 * nobody is expected any more, if there is one.
 */
function placeOf(
  plan: CompanyPlan,
  { knownSince, busyUntil }: Places,
  { index, slot }: { index: number; slot: Slot },
  returns: Returns,
) {
  const newest = Math.floor(index / plan.ticketsPerPlace);
  const isNew = newest !== Math.floor((index - 1) / plan.ticketsPerPlace);
  const call = slot.call.getTime();
  const isBusyAt = (at: number) => call < (busyUntil[at] ?? 0);
  const random = randomFor(plan.seed, 'caller', index);
  // On call nobody but who was told to comes back for our own work: it is the last evening for it.
  const back = isNew
    ? undefined
    : returns.take(
        localDay(slot.start, plan.company.timeZone),
        (place, how) => !isBusyAt(place) && slot.onCall === (how === 'recall'),
      );
  let at = isNew ? newest : (back?.place ?? random.int(0, newest));
  for (let tries = 0; !isNew && isBusyAt(at) && tries < PLACES_TRIED; tries += 1) {
    at = random.int(0, newest);
  }
  const isBusy = isBusyAt(at);
  if (isNew) knownSince[at] = call;
  busyUntil[at] = Math.max(busyUntil[at] ?? 0, (slot.later ?? slot).end.getTime() + HOUR_MS);
  const place = withTerms(plan, placeAt(plan.seed, at, new Date(knownSince[at] ?? call)), at);
  return { isNew, isBusy, place, at, comesBack: back?.how };
}

const PLACES_TRIED = 8;
const HOUR_MS = 3_600_000;
