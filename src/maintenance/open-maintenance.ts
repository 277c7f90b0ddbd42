import { DateTime } from 'luxon';
import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { SiteAgreement, Ticket } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { writeTicket } from '../tickets/index.ts';
import type { newMaintenanceSchema } from './contract.ts';
import { isDue } from './due-months.ts';

type NewMaintenance = z.output<typeof newMaintenanceSchema>;

/**
 * Opens the ticket of a month in which maintenance is due.
 * @throws ProblemError 422 for an agreement that does not exist, or under which nothing is due in
 *   that month; 409 when the month has its ticket
 */
export async function openMaintenance(act: ActContext, input: NewMaintenance): Promise<Ticket> {
  const { agreementId, dueMonth } = input;
  const agreement = await act.tx.siteAgreement.findUnique({ where: { id: agreementId } });
  if (agreement === null) throw unknownReference('/agreementId', 'There is no such agreement.');
  // Of two that open the same month the second waits here, and then finds the ticket of the first.
  // Whoever comes around this lock is refused by the database.
  await lockRow(act.tx, 'site', agreement.siteId);
  await refuseNotDue(act, agreement, dueMonth);
  const { occupantId } = await act.tx.site.findUniqueOrThrow({
    where: { id: agreement.siteId },
  });
  const call = { siteId: agreement.siteId, callerId: occupantId, symptoms: [] };
  const ticket = await writeTicket(
    act,
    { ...call, complaint: `Maintenance due in ${inWords(dueMonth)}` },
    'maintenance',
  );
  await act.tx.maintenanceDue.create({
    data: { ticketId: ticket.id, agreementId, dueMonth: dateOfDay(`${dueMonth}-01`) },
  });
  await appendJournal(act, {
    event: 'maintenance.opened',
    subject: { kind: 'ticket', id: ticket.id },
    after: { agreementId, dueMonth },
  });
  return ticket;
}

async function refuseNotDue(
  act: ActContext,
  { id: agreementId, siteId }: SiteAgreement,
  dueMonth: string,
): Promise<void> {
  const { timeZone } = await companyOf(act.tx);
  const today = localDay(act.now, timeZone);
  if (await isDue(sqlOf(act.tx), today, { dueMonth, agreementId })) return;
  const open = await act.tx.maintenanceDue.findFirst({
    where: {
      agreement: { siteId },
      dueMonth: dateOfDay(`${dueMonth}-01`),
      ticket: { state: { not: 'cancelled' } },
    },
    select: { ticket: { select: { id: true, number: true } } },
  });
  if (open === null) {
    throw unknownReference('/dueMonth', 'Nothing is due under this agreement in that month.');
  }
  const { id: ticketId, number } = open.ticket;
  throw new ProblemError('already-exists', `Ticket ${number} is the one of that month.`, {
    ticketId,
  });
}

/** June 2026. */
function inWords(month: string): string {
  return DateTime.fromISO(`${month}-01`, { zone: 'utc' }).setLocale('en-US').toFormat('MMMM yyyy');
}
