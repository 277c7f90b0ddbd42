import type { z } from 'zod';
import { companyOf } from '../company/index.ts';
import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import { type Expected, expectedArrivals, type Road } from '../planning/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';
import { dayNow, instantOf, minuteOf, type TechnicianDay } from '../workdays/index.ts';
import type { runningLateSchema } from './contract.ts';
import { dayOfVisit } from './day-of-visit.ts';
import { lateMessage } from './late-message.ts';

type RunningLate = z.input<typeof runningLateSchema>;

/**
 * Who of the rest of a technician's day is affected when a visit takes longer than planned, and what
 * to say to them. No fee changes by it.
 * @throws ProblemError 404, also for another technician's visit; 409 for one that is over, or where
 *   nobody knows where the technician sets out
 */
export async function runningLate(
  context: ReadContext,
  visitId: string,
  overMinutes: number,
): Promise<RunningLate> {
  const visit = await visitOf(context.prisma, context, visitId);
  if (!['booked', 'on_the_way', 'on_site'].includes(visit.state)) {
    throw new ProblemError('not-allowed-now', 'This visit is over: it keeps nobody waiting.', {
      currentState: visit.state,
      action: 'run_late',
      allowedActions: allowedActions(visitLifecycle, visit.state),
    });
  }
  const { day, road } = await dayOfVisit(context, visit);
  const usual = expectedOf(day, minuteOf(context.now), road, visitId, 0);
  const over = expectedOf(day, minuteOf(context.now), road, visitId, overMinutes);
  return {
    ...{ visitId, technicianId: visit.technicianId, runsOverMinutes: overMinutes },
    items: await items(context, day, usual, over),
  };
}

type Arrivals = ReadonlyMap<string, Expected>;

/** When each is expected, if one visit takes so much longer. */
function expectedOf(
  day: TechnicianDay,
  now: number,
  road: Road,
  visitId: string,
  overMinutes: number,
): Arrivals {
  const standing = dayNow(day);
  const current = standing.stops.find(({ progress }) => progress.kind !== 'finished');
  // What is in hand may have run over already: how much longer it takes counts from now.
  if (current?.id === visitId) {
    const expected = expectedArrivals(standing, now, road, overMinutes);
    return new Map(expected.map(({ stopId, ifOver }) => [stopId, ifOver]));
  }
  const stops = standing.stops.map((stop) =>
    stop.id === visitId ? { ...stop, minutes: stop.minutes + overMinutes } : stop,
  );
  const expected = expectedArrivals({ ...standing, stops }, now, road);
  return new Map(expected.map(({ stopId, ...each }) => [stopId, each]));
}

async function items(
  { prisma }: ReadContext,
  { stops }: TechnicianDay,
  usual: Arrivals,
  over: Arrivals,
): Promise<RunningLate['items']> {
  const company = await companyOf(prisma);
  const tickets = await prisma.ticket.findMany({
    where: { id: { in: stops.map(({ visit }) => visit.ticketId) } },
    select: {
      ...{ id: true, number: true },
      site: { select: { occupant: { select: { name: true, phone: true, language: true } } } },
    },
  });
  return stops.flatMap(({ id, visit }) => {
    const ticket = tickets.find((each) => each.id === visit.ticketId);
    const [expected, ifOver] = [usual.get(id), over.get(id)];
    if (ticket === undefined || expected === undefined || ifOver === undefined) return [];
    const { name, phone, language: stored } = ticket.site.occupant;
    const language = stored === 'es' ? 'es' : 'en';
    const { windowEnd } = visit;
    const isLate = ifOver.lateMinutes > 0;
    const expectedAt = instantOf(ifOver.start);
    return [
      {
        visitId: id,
        ticketNumber: ticket.number,
        windowStart: visit.windowStart.toISOString(),
        windowEnd: windowEnd.toISOString(),
        expectedAt: instantOf(expected.start).toISOString(),
        expectedIfOverAt: expectedAt.toISOString(),
        lateMinutes: ifOver.lateMinutes,
        household: { name, phone, language },
        message: isLate ? lateMessage({ company, language, windowEnd, expectedAt }) : null,
      },
    ];
  });
}
