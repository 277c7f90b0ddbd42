import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import type { WindowOffer } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { notFound, ProblemError, wrongQuery } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { priorityOf } from '../priorities/index.ts';
import { endedStates, ticketRequests } from '../tickets/index.ts';
import { purposesOf } from '../visits/index.ts';
import {
  freeWindows,
  offeredWindows,
  placesOf,
  ticketNeeds,
  type WorkDays,
  workDays,
} from '../workdays/index.ts';
import type { ticketWindowsSchema, windowsQuerySchema } from './contract.ts';
import { type OfferedTo, toldOffer } from './told-offer.ts';

type Asked = z.output<typeof windowsQuerySchema>;
type TicketWindows = z.input<typeof ticketWindowsSchema>;

/**
 * The best arrival windows for a ticket on some days, each with what speaks for it and the fee to be
 * told. For a ticket that is booked already: where else it could be, were that visit given up.
 * @throws ProblemError 404; 400 for days that are all over; 409 for a ticket that nobody is sent to any more, or without a price
 *   book in force
 */
export async function findWindows(
  context: ReadContext,
  ticketId: string,
  asked: Asked,
): Promise<TicketWindows> {
  const ticket = await bookableTicket(context, ticketId);
  const days = daysFrom(asked);
  await refusePastDays(context, days);
  const work = await workDays(context, days);
  const needs = (await ticketNeeds(context, [ticketId], work.policy.usualMinutes)).get(ticketId);
  if (needs === undefined) throw notFound('ticket');
  const purpose = (await purposesOf(context.prisma, ticket))[0] ?? 'call';
  const priority = (await priorityOf(context, [ticketId])).get(ticketId);
  const isUrgent = priority !== undefined && priority.rank <= SOON_RANK_MAX;
  const urgency: TicketWindows['urgency'] = isUrgent ? 'soonest' : 'usual';
  const known = await knownPlace(context, work, ticket.siteId);
  const wanted = {
    ...{ needs: needs.skills, minutes: needs.minutes, urgency },
    technicianId: asked.technicianId,
    insteadOfId: await liveVisitOf(context, ticketId),
  };
  const windows = offeredWindows(work, days, context.now);
  const offers =
    known === undefined
      ? []
      : freeWindows(work, { ...wanted, place: known.place }, windows, context.now);
  return {
    ...{ ticketId, purpose, needs: [...needs.skills], urgency },
    work: { minutes: needs.minutes, basis: needs.minutesBasis, says: needs.minutesSay },
    placeIs: known?.placeIs ?? 'base',
    items: await toldOffers(context, offers.slice(0, asked.limit), {
      ...{ siteId: ticket.siteId, purpose, insteadOfId: wanted.insteadOfId },
    }),
    withoutBase: [...work.withoutBase],
  };
}

/** Of these ranks nobody may wait for a better route. */
const SOON_RANK_MAX = 2;

async function bookableTicket({ prisma }: ReadContext, id: string): Promise<Ticket> {
  const ticket = await prisma.ticket.findUnique({ where: { id } });
  if (ticket === null) throw notFound('ticket');
  if (!endedStates.includes(ticket.state)) return ticket;
  throw new ProblemError('not-allowed-now', 'Nobody is sent to this ticket any more.', {
    currentState: ticket.state,
    action: 'book',
    allowedActions: ticketRequests(ticket.state),
  });
}

function daysFrom({ from, days }: Asked): [string, ...string[]] {
  const more = Array.from({ length: days - 1 }, (_, at) => plusDays(from, at + 1));
  return [from, ...more];
}

/** Nothing is free on a day that is over, and an empty list would say that all is booked. */
async function refusePastDays({ prisma, now }: ReadContext, days: [string, ...string[]]) {
  const { timeZone } = await companyOf(prisma);
  const last = days.at(-1) ?? days[0];
  if (last >= localDay(now, timeZone)) return;
  throw wrongQuery('/from', 'day_over', 'must reach a day that is not over');
}

async function knownPlace({ sql }: ReadContext, { usualBase }: WorkDays, siteId: string) {
  if (usualBase === undefined) return undefined;
  return (await placesOf(sql, [siteId], usualBase)).get(siteId);
}

async function liveVisitOf({ prisma }: ReadContext, ticketId: string) {
  const visit = await prisma.visit.findFirst({
    where: { ticketId, state: { in: ['booked', 'on_the_way'] } },
    select: { id: true },
  });
  return visit?.id;
}

async function toldOffers(
  context: ReadContext,
  offers: readonly WindowOffer[],
  to: Omit<OfferedTo, 'technicianName'>,
): Promise<TicketWindows['items']> {
  const technicians = await context.prisma.staff.findMany({
    where: { id: { in: offers.map(({ technicianId }) => technicianId) } },
    select: { id: true, name: true },
  });
  const names = new Map(technicians.map(({ id, name }) => [id, name]));
  const told: TicketWindows['items'] = [];
  for (const offer of offers) {
    const technicianName = names.get(offer.technicianId) ?? '';
    told.push(await toldOffer(context, offer, { ...to, technicianName }));
  }
  return told;
}
