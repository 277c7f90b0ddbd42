import { localDay } from '../../src/company/index.ts';
import type { TicketState, VisitState } from '../../src/lifecycles/index.ts';
import { periodAt } from '../../src/pricebook/index.ts';
import type { Slot } from './calendar.ts';
import type { Member } from './company-plan.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import type { Machine, Place } from './place.ts';
import { bookAt } from './price-books.ts';
import { agreementOn, type VisitTerms } from './pricing-inputs-of.ts';
import type { Scenario } from './scenarios.ts';
import type { Turned } from './turns/turned.ts';
import type { Wrong } from './wrongs/wrong.ts';

/** A ticket that is being written. */
export interface Job {
  ticketId: string;
  number: number;
  place: Place;
  slot: Slot;
  dispatcher: Member;
  scenario: Scenario;
  machine: Machine;
  wrong: Wrong | undefined;
  turn: Turned | undefined;
  /** A part failed again within the year: worth a look. */
  asksAgain: boolean;
}

/** A step of a life: into which state, when, by whom. */
export interface Step<State> {
  to: State;
  at: Date;
  by: Member;
}

/**
 * Writes the ticket itself, and the steps it took. Its row stands where it may first be closed, for
 * its work is put on record there; the closings and what came back move it on.
 */
export function writeTicketRow(
  pen: Pen,
  job: Job,
  steps: Step<TicketState>[],
  closingNote?: string,
): void {
  const { ticketId: id, number, place, slot, scenario, dispatcher } = job;
  const opened = {
    number,
    siteId: place.id,
    callerId: place.occupant.id,
    symptoms: [...scenario.symptoms],
  };
  const closedAt = steps.findIndex(({ to }) => to === 'closed');
  const open = closedAt === -1 ? steps.length : closedAt;
  pen.add('ticket', {
    ...opened,
    id,
    complaint: scenario.complaint,
    state: steps[open - 1]?.to ?? 'new',
    closingNote: closingNote ?? null,
    firstClosedAt: steps.find(({ to }) => to === 'closed')?.at ?? null,
    version: 1 + open,
    createdAt: slot.call,
    createdById: dispatcher.id,
  });
  pen.note(slot.call, dispatcher, {
    event: 'ticket.opened',
    subject: { kind: 'ticket', id },
    after: { ...opened, state: 'new' },
  });
  noteSteps(pen, 'ticket.moved', { kind: 'ticket', id }, 'new', steps);
  moveOn(pen, id, steps.slice(open));
}

/** From its first closing on: one that came back is worked on and closed again. */
function moveOn(pen: Pen, ticketId: string, steps: readonly Step<TicketState>[]): void {
  const [first, second, ...again] = steps;
  const last = again.at(-1);
  if (first === undefined) return;
  pen.ticketSteps.push({ step: 'close', ticketId, state: first.to, moves: 1 });
  if (second === undefined) return;
  pen.ticketSteps.push({ step: 'reopen', ticketId, state: second.to, moves: 1 });
  const worked = again.at(-2);
  if (last === undefined || worked === undefined) return;
  const moves = again.length - 1;
  pen.ticketSteps.push({ step: 'work_again', ticketId, state: worked.to, moves });
  pen.ticketSteps.push({ step: 'close_again', ticketId, state: last.to, moves: 1 });
}

/** What somebody comes for, and when that was agreed. */
export interface Booking {
  purpose: 'call' | 'return' | 'callback';
  at: Date;
}

/** Writes one visit in a window, and gives its identifier. */
export function writeVisitRow(
  pen: Pen,
  { ticketId, place, slot, dispatcher }: Job,
  window: { start: Date; end: Date },
  terms: VisitTerms,
  steps: Step<VisitState>[],
  { purpose, at: bookedAt }: Booking = { purpose: 'call', at: minutesAfter(slot.call, 4) },
): string {
  const id = pen.makeId(bookedAt);
  const agreed = {
    ticketId,
    technicianId: technicianOf(pen, slot).id,
    purpose,
    windowStart: window.start,
    windowEnd: window.end,
    feeCents: terms.feeCents,
    periodCode: terms.periodCode,
  };
  pen.add('visit', {
    ...agreed,
    ...feeStanding(terms),
    id,
    state: steps.at(-1)?.to ?? 'booked',
    feeAgreedBy: place.occupant.name,
    feeAgreedAt: bookedAt,
    priceBookVersionId: bookAt(pen.plan.books, bookedAt).id,
    arrivedAt: steps.find(({ to }) => to === 'on_site')?.at ?? null,
    leftAt: leftAt(steps),
    version: 1 + steps.length,
    createdAt: bookedAt,
  });
  pen.note(bookedAt, dispatcher, {
    event: 'visit.booked',
    subject: { kind: 'visit', id },
    after: agreed,
  });
  noteSteps(pen, 'visit.moved', { kind: 'visit', id }, 'booked', steps);
  return id;
}

/** Who came and found nobody left when that was noted. */
function leftAt(steps: readonly Step<VisitState>[]): Date | null {
  const hasCome = steps.some(({ to }) => to === 'on_site');
  const left = steps.find(({ to }) => to === 'finished' || (hasCome && to === 'no_access'));
  return left?.at ?? null;
}

/** What the fee rests on besides the book: the discount of a plan, or the fee of another visit. */
function feeStanding({ feeAgreement, sameTripAs }: VisitTerms) {
  return {
    feeAgreement: feeAgreement === undefined ? null : JSON.stringify(feeAgreement),
    sameTripAs: sameTripAs ?? null,
  };
}

/** When the first visit of a ticket is agreed to. */
export function bookedAt({ slot }: Pick<Job, 'slot'>): Date {
  return minutesAfter(slot.call, 4);
}

/** The fee and the factor of a window, by the book in force when it is agreed to. */
export function termsAt({ plan }: Pen, windowStart: Date, agreedAt: Date): VisitTerms {
  const { periods } = bookAt(plan.books, agreedAt);
  const period = periodAt(periods, windowStart, plan.company.timeZone);
  return {
    feeCents: period.visitFeeCents,
    periodCode: period.code,
    laborFactor: period.laborFactor,
  };
}

/** The terms of a visit that was called for, with what the plan of its place takes off the fee. */
export function termsOf(
  pen: Pen,
  {
    place,
    slot,
    agreedAt = bookedAt({ slot }),
    windowStart = slot.start,
  }: Pick<Job, 'place' | 'slot'> & { agreedAt?: Date; windowStart?: Date },
): VisitTerms {
  const terms = termsAt(pen, windowStart, agreedAt);
  const day = localDay(agreedAt, pen.plan.company.timeZone);
  const plan = agreementOn(place, day, bookAt(pen.plan.books, agreedAt));
  const share = plan?.discounts.visit_fee;
  return plan === undefined || share === undefined
    ? terms
    : { ...terms, feeAgreement: { code: plan.code, name: plan.name, share } };
}

export function technicianOf({ plan }: Pen, { technician }: Slot): Member {
  return plan.technicians[technician] ?? raise('a window belongs to a technician');
}

/** The step that every booked ticket takes first. */
export function booked({ slot, dispatcher }: Job): Step<TicketState> {
  return step('scheduled', bookedAt({ slot }), dispatcher);
}

export function step<State extends string>(to: State, at: Date, by: Member): Step<State> {
  return { to, at, by };
}

export function raise(message: string): never {
  throw new Error(message);
}

function noteSteps(
  pen: Pen,
  event: 'ticket.moved' | 'visit.moved',
  subject: { kind: string; id: string },
  from: string,
  steps: Step<string>[],
): void {
  let before = from;
  for (const { to, at, by } of steps) {
    pen.note(at, by, { event, subject, before: { state: before }, after: { state: to } });
    before = to;
  }
}
