import type { z } from 'zod';
import { localDay } from '../company/index.ts';
import type { PrismaClient } from '../platform/database/generated/client.ts';
import { findFault, taskCodeSchema, taskWords } from '../trade/index.ts';
import { complaintGoneSchema } from '../work/index.ts';
import type { glanceSchema } from './contract.ts';

const CLOSED_MAX = 5;

/** The tickets of a site that were closed last, with what was found and done in plain words. */
export async function lastClosedAt(
  prisma: Pick<PrismaClient, 'ticketClosing'>,
  siteId: string,
  timeZone: string,
): Promise<z.input<typeof glanceSchema>['lastClosed']> {
  const closings = await prisma.ticketClosing.findMany({
    // The closing that a callback undid is not how the ticket was closed last.
    where: { callback: null, ticket: { siteId, state: 'closed' } },
    orderBy: [{ closedAt: 'desc' }, { id: 'desc' }],
    take: CLOSED_MAX,
    select: {
      complaintGone: true,
      conditionLeft: true,
      closedAt: true,
      ticket: { select: { id: true, number: true, complaint: true, visits: foundAndDone } },
    },
  });
  return closings.map(({ ticket, closedAt, complaintGone, conditionLeft }) => {
    const { visits, ...told } = ticket;
    const faults = visits.flatMap(({ findings }) => findings.map(({ faultCode }) => faultCode));
    const tasks = visits.flatMap(({ outcomes }) => outcomes.map(({ finding }) => finding.taskCode));
    return {
      ...told,
      closedOn: localDay(closedAt, timeZone),
      found: [...new Set(faults.map((code) => findFault(code)?.name ?? code))],
      done: [...new Set(tasks.map((code) => taskWords[taskCodeSchema.parse(code)].name))],
      complaintGone: complaintGoneSchema.parse(complaintGone),
      conditionLeft,
    };
  });
}

/** Only what the evidence carried is called found, and only what was not struck out is done. */
const foundAndDone = {
  orderBy: { id: 'asc' },
  select: {
    findings: { where: { priceable: true }, orderBy: { id: 'asc' }, select: { faultCode: true } },
    outcomes: {
      where: { outcome: 'done', strike: null },
      orderBy: { recordedAt: 'asc' },
      select: { finding: { select: { taskCode: true } } },
    },
  },
} as const;
