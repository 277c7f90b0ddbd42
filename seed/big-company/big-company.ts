import { type Batch, newBatch } from './batch.ts';
import { type CompanyPlan, type CompanySize, planCompany, ticketsOf } from './company-plan.ts';
import { type Numbers, newChain, withPen } from './pen.ts';
import { placeAt } from './place.ts';
import { randomFor } from './random.ts';
import { writeOffice } from './write-office.ts';
import { writePlace } from './write-place.ts';
import { writeTicket } from './write-ticket.ts';

/** The first number of tickets and of quotes, as the database counts them too. */
export const firstNumber = 1_001;

/**
 * A whole invented company, some tickets at a time: the first batch also holds its office. What is
 * kept from batch to batch is a few counters and eight bytes for each place.
 */
export function* bigCompany(size: CompanySize, ticketsPerBatch = 250): Generator<Batch> {
  const plan = planCompany(size);
  const chain = newChain();
  const numbers: Numbers = { nextQuote: firstNumber };
  const knownSince = new Float64Array(Math.ceil(plan.tickets / plan.ticketsPerPlace));
  let batch = newBatch();
  withPen(plan, batch, chain, numbers, -1, writeOffice);
  for (const ticket of ticketsOf(plan)) {
    withPen(plan, batch, chain, numbers, ticket.index, (pen) => {
      const dispatcher = pen.random.pick(plan.dispatchers);
      const visited = placeOf(plan, knownSince, ticket.index, ticket.slot.call);
      if (visited.isNew) writePlace(pen, visited.place, dispatcher);
      const number = firstNumber + ticket.index;
      writeTicket(pen, { ...ticket, number, place: visited.place, dispatcher });
    });
    if ((ticket.index + 1) % ticketsPerBatch === 0) {
      yield batch;
      batch = newBatch();
    }
  }
  yield batch;
}

/** A new place for every few tickets; the others come from one of the places known by then. */
function placeOf(plan: CompanyPlan, knownSince: Float64Array, index: number, call: Date) {
  const newest = Math.floor(index / plan.ticketsPerPlace);
  const isNew = newest !== Math.floor((index - 1) / plan.ticketsPerPlace);
  const at = isNew ? newest : randomFor(plan.seed, 'caller', index).int(0, newest);
  if (isNew) knownSince[at] = call.getTime();
  return { isNew, place: placeAt(plan.seed, at, new Date(knownSince[at] ?? call)) };
}
