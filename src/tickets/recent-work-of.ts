import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { taskCodeSchema, taskWords } from '../trade/index.ts';
import { callbackDays } from './callback-days.ts';
import { type recentWorkSchema, symptomSchema } from './contract.ts';

/**
 * The closed tickets of a new ticket's site on which something was mended, that still reopen as a
 * callback and may be of the same trouble, the newest first: they share a symptom, or one of the two
 * has none coded. A call names no system, so each says which systems were worked on.
 */
export async function recentWorkOf(
  { tx, now }: { tx: Pick<Tx, 'company' | 'ticket'>; now: Date },
  { siteId, symptoms }: Pick<Ticket, 'siteId' | 'symptoms'>,
): Promise<z.input<typeof recentWorkSchema>[]> {
  const { timeZone } = await companyOf(tx);
  const today = localDay(now, timeZone);
  const closed = await closedTicketsOf(tx, siteId, now);
  return closed.flatMap(({ id, number, symptoms: told, closings, visits }) => {
    const [closing] = closings;
    if (closing === undefined) return [];
    const closedOn = localDay(closing.closedAt, timeZone);
    const reopenUntil = plusDays(closedOn, callbackDays);
    const shared = told.filter((symptom) => symptoms.includes(symptom));
    const mayBeSame = shared.length > 0 || told.length === 0 || symptoms.length === 0;
    const repairs = visits.flatMap(({ outcomes }) => outcomes.map(repairOf));
    if (reopenUntil < today || !mayBeSame || repairs.length === 0) return [];
    const repair = {
      ticketId: id,
      ticketNumber: number,
      closedOn,
      symptoms: shared.map((symptom) => symptomSchema.parse(symptom)),
      repairs,
      reopenUntil,
      reopenWith: `POST /v1/tickets/${id}/reopen`,
    };
    return [repair];
  });
}

/** A day longer than a callback has, whatever the clocks did: the calendar decides. */
function closedTicketsOf(tx: Pick<Tx, 'ticket'>, siteId: string, now: Date) {
  const since = new Date(now.getTime() - (callbackDays + 2) * 86_400_000);
  return tx.ticket.findMany({
    where: { siteId, state: 'closed', closings: { some: { closedAt: { gte: since } } } },
    orderBy: { number: 'desc' },
    select: {
      id: true,
      number: true,
      symptoms: true,
      closings: { orderBy: { sequence: 'desc' }, take: 1, select: { closedAt: true } },
      visits: { orderBy: { id: 'asc' }, select: { outcomes: mended } },
    },
  });
}

const mended = {
  where: { outcome: 'done', strike: null },
  orderBy: { findingId: 'asc' },
  select: {
    finding: {
      select: {
        taskCode: true,
        equipment: { select: { system: { select: { id: true, name: true } } } },
      },
    },
  },
} as const;

function repairOf({
  finding,
}: {
  finding: { taskCode: string; equipment: { system: { id: string; name: string } } };
}) {
  const { id: systemId, name: systemName } = finding.equipment.system;
  return { systemId, systemName, task: taskWords[taskCodeSchema.parse(finding.taskCode)].name };
}
