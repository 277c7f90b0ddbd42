import type { ReadContext } from '../platform/http/route.ts';
import type { WantedVisit } from './nearest-free.ts';
import { plannedOf } from './planned-columns.ts';

/** A booking as it was asked for. */
export interface AskedBooking {
  ticketId: string;
  technicianId: string;
  windowStart: string;
  windowEnd: string;
  planned?: { minutes: number } | undefined;
}

/** What a booking wanted. */
export function wantedOf(asked: AskedBooking): WantedVisit {
  return {
    ticketId: asked.ticketId,
    technicianId: asked.technicianId,
    windowStart: new Date(asked.windowStart),
    windowEnd: new Date(asked.windowEnd),
    minutes: asked.planned?.minutes,
  };
}

/** What a visit was to be instead; what was not named is as it is. Undefined where there is none. */
export async function wantedInstead(
  { prisma }: Pick<ReadContext, 'prisma'>,
  visitId: string,
  asked: { [Field in keyof AskedBooking]?: AskedBooking[Field] | undefined },
): Promise<WantedVisit | undefined> {
  const visit = await prisma.visit.findUnique({ where: { id: visitId } });
  if (visit === null) return undefined;
  const { plannedStart, plannedEnd } = plannedOf(visit);
  return {
    ticketId: visit.ticketId,
    technicianId: asked.technicianId ?? visit.technicianId,
    windowStart: new Date(asked.windowStart ?? visit.windowStart),
    windowEnd: new Date(asked.windowEnd ?? visit.windowEnd),
    minutes: asked.planned?.minutes ?? (plannedEnd.getTime() - plannedStart.getTime()) / 60_000,
    insteadOfId: visitId,
  };
}
