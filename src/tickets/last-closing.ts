import type { Tx } from '../platform/database/database.ts';

/** How a ticket was closed last, and whether it was reopened since. */
export interface LastClosing {
  id: string;
  sequence: number;
  closedAt: Date;
  /** A reopened ticket is a callback until it is closed again. */
  isReopened: boolean;
}

/** The last closing of a ticket; undefined for one that was never closed. */
export async function lastClosing(
  prisma: Pick<Tx, 'ticketClosing'>,
  ticketId: string,
): Promise<LastClosing | undefined> {
  const closing = await prisma.ticketClosing.findFirst({
    where: { ticketId },
    orderBy: { sequence: 'desc' },
    select: { id: true, sequence: true, closedAt: true, callback: { select: { id: true } } },
  });
  if (closing === null) return undefined;
  const { callback, ...rest } = closing;
  return { ...rest, isReopened: callback !== null };
}

/** Whether a ticket is a callback now, in SQL: its last closing tells whether it was reopened since. */
export function isCallback(ticketId: string): string {
  return `coalesce((SELECT EXISTS (SELECT FROM ticket_callback b WHERE b.closing_id = c.id)
    FROM ticket_closing c WHERE c.ticket_id = ${ticketId}
    ORDER BY c.sequence DESC LIMIT 1), false)`;
}
