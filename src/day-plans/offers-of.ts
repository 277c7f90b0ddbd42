import type { z } from 'zod';
import { feeTerms, purposesOf, toldFeeCents } from '../visits/index.ts';
import type { Reader } from '../workdays/index.ts';
import type { PlanContent, planOffersSchema } from './contract.ts';

type Offers = z.input<typeof planOffersSchema>['items'];

/**
 * Whom to call about the room that a plan found for them, and the fee to tell them: found as the
 * booking finds it. Whoever is booked by now is called no more.
 * @throws ProblemError 409 when no price book is in force
 */
export async function offersOf(reader: Reader, placed: PlanContent['placed']): Promise<Offers> {
  const { prisma } = reader;
  const tickets = await prisma.ticket.findMany({
    where: { id: { in: placed.map(({ ticketId }) => ticketId) }, state: 'new' },
    include: {
      site: { select: { occupant: { select: { name: true, phone: true, language: true } } } },
    },
  });
  const offers: Offers = [];
  for (const each of placed) {
    const ticket = tickets.find(({ id }) => id === each.ticketId);
    if (ticket === undefined) continue;
    const plannedStart = new Date(each.planned.start);
    const purpose = (await purposesOf(prisma, ticket))[0] ?? 'call';
    const trip = {
      ...{ purpose, siteId: ticket.siteId, technicianId: each.technicianId, plannedStart },
      plannedEnd: new Date(plannedStart.getTime() + each.planned.minutes * 60_000),
      windowStart: new Date(each.windowStart),
      windowEnd: new Date(each.windowEnd),
    };
    const terms = await feeTerms(reader, trip, 'tell');
    const { name, phone, language } = ticket.site.occupant;
    offers.push({
      ...each,
      ticketNumber: ticket.number,
      purpose,
      household: { name, phone, language: language === 'es' ? 'es' : 'en' },
      fee: {
        periodCode: terms.periodCode,
        feeCents: terms.feeCents,
        feeAfterDiscountCents: toldFeeCents(terms),
        sameTripAs: terms.sameTripAs,
      },
    });
  }
  return offers;
}
