import type { z } from 'zod';
import type { newTaxRuleSchema } from '../../src/pricebook/index.ts';
import { company, staff, taxRule } from '../company.ts';
import { presentDay, presentInstant, type Slot, slotsOf } from './calendar.ts';
import { makeIds } from './make-ids.ts';
import { inventName, inventPhone } from './people.ts';
import { type YearBook, yearBooks } from './price-books.ts';
import { randomFor } from './random.ts';
import { type TicketFate, takesWindow, ticketFate } from './ticket-fate.ts';

/** How big, which one, and whether with its journal. */
export interface CompanySize {
  tickets: number;
  seed: number;
  /** With an entry, sealed, for every change that led to what is there. */
  journal: boolean;
  /** The share of visited tickets that is written wrongly on purpose; none when absent. */
  wrongs?: number;
  /** The share of visited tickets that go an uncommon but honest way; none when absent. */
  turns?: number;
}

/** Whether its life takes uncommon turns. */
export function hasTurns({ turns = 0 }: CompanySize): boolean {
  return turns > 0;
}

export function hasWrongs({ wrongs = 0 }: CompanySize): boolean {
  return wrongs > 0;
}

export interface Member {
  id: string;
  name: string;
  role: 'owner' | 'dispatcher' | 'technician';
  phone: string;
  epa608Type: string | null;
  epa608Number: string | null;
}

/** Everything of a company that does not grow with its tickets. */
export interface CompanyPlan extends CompanySize {
  company: typeof company;
  present: Date;
  /** When the company began to use the program: before its first call. */
  began: Date;
  owner: Member;
  dispatchers: [Member, ...Member[]];
  technicians: Member[];
  books: YearBook[];
  taxRules: z.input<typeof newTaxRuleSchema>[];
  /** A new place for every so many tickets; the others come from places known by then. */
  ticketsPerPlace: number;
}

/** One technician for every 2,500 tickets of the past, from two to a hundred. */
export function planCompany(size: CompanySize): CompanyPlan {
  const random = randomFor(size.seed, 'company', 0);
  const technicianCount = Math.max(2, Math.min(100, Math.ceil(size.tickets / 2_500)));
  const [first] = slotsOf(windowCount(size), technicianCount, company.timeZone);
  const present = presentInstant(company.timeZone);
  const firstYear = (first?.call ?? present).getUTCFullYear() - 1;
  const began = new Date(Date.UTC(firstYear, 0, 1, 6));
  const makeId = makeIds(random);
  const members = staffOf(technicianCount, random).map((member) => ({
    ...member,
    id: makeId(began),
  }));
  // Somebody has to be without one, or nobody could ever lack it.
  const last = members.findLast(({ role }) => role === 'technician');
  if (hasWrongs(size) && last !== undefined) {
    Object.assign(last, { epa608Type: null, epa608Number: null });
  }
  const [owner] = members.filter(({ role }) => role === 'owner');
  const [dispatcher, ...dispatchers] = members.filter(({ role }) => role === 'dispatcher');
  if (owner === undefined || dispatcher === undefined) throw new Error('a company has an office');
  return {
    ...size,
    company,
    present,
    began,
    owner,
    dispatchers: [dispatcher, ...dispatchers],
    technicians: members.filter(({ role }) => role === 'technician'),
    books: yearBooks(
      { firstYear, lastYear: Number(presentDay.slice(0, 4)), isMonthly: hasTurns(size) },
      makeId,
    ).filter(({ from }) => from <= present),
    taxRules: taxRulesSince(began),
    ticketsPerPlace: 3.5,
  };
}

/** Each ticket's fate with the window it takes, first to last. */
export function* ticketsOf(
  plan: CompanyPlan,
): Generator<{ index: number; fate: TicketFate; slot: Slot }> {
  const slots = slotsOf(windowCount(plan), plan.technicians.length, plan.company.timeZone);
  let slot = slots.next().value;
  for (let index = 0; index < plan.tickets && slot !== undefined; index += 1) {
    const fate = ticketFate(plan.seed, index);
    yield { index, fate, slot };
    // Who needs no window calls while the next free one is being given away.
    if (takesWindow(fate)) slot = slots.next().value ?? slot;
  }
}

function windowCount({ tickets, seed }: CompanySize): number {
  let count = 0;
  for (let index = 0; index < tickets; index += 1) {
    if (takesWindow(ticketFate(seed, index))) count += 1;
  }
  return Math.max(1, count);
}

function staffOf(
  technicianCount: number,
  random: ReturnType<typeof randomFor>,
): Omit<Member, 'id'>[] {
  const known = staff.map((member) => ({
    name: member.name,
    role: member.role,
    phone: member.phone,
    epa608Type: member.epa608Type ?? null,
    epa608Number: member.epa608Number ?? null,
  }));
  const here = known.filter(({ role }) => role === 'technician').length;
  const more = Array.from({ length: Math.max(0, technicianCount - here) }, (_, at) => ({
    name: inventName(random),
    role: 'technician' as const,
    phone: inventPhone(random),
    epa608Type: random.pick(['universal', 'type_2']),
    epa608Number: `INVENTED-608-${at + here + 1}`,
  }));
  const office = Array.from({ length: Math.floor(technicianCount / 12) }, () => ({
    name: inventName(random),
    role: 'dispatcher' as const,
    phone: inventPhone(random),
    epa608Type: null,
    epa608Number: null,
  }));
  return [...known, ...more, ...office];
}

/** The county raised its rate once; the town beside it taxes labor too, line by line. */
function taxRulesSince(began: Date): z.input<typeof newTaxRuleSchema>[] {
  const start = began.toISOString().slice(0, 10);
  const raised = '2025-07-01';
  const county =
    start < raised
      ? [
          { ...taxRule, rate: '0.08', effectiveFrom: start, effectiveTo: raised },
          { ...taxRule, effectiveFrom: raised },
        ]
      : [{ ...taxRule, effectiveFrom: start }];
  const town: z.input<typeof newTaxRuleSchema> = {
    jurisdiction: 'plover_bend',
    name: 'Town sales tax',
    rate: '0.07',
    taxableClasses: ['part', 'material', 'equipment', 'labor'],
    mode: 'separated',
    basis: 'item',
    effectiveFrom: start,
  };
  return [...county, town];
}
