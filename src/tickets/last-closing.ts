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

/** Which of some tickets are callbacks now, by one statement however many they are. */
export async function callbacksAmong(
  prisma: Pick<Tx, 'ticketClosing'>,
  ticketIds: readonly string[],
): Promise<ReadonlySet<string>> {
  if (ticketIds.length === 0) return new Set();
  const closings = await prisma.ticketClosing.findMany({
    where: { ticketId: { in: [...ticketIds] } },
    orderBy: { sequence: 'asc' },
    select: { ticketId: true, callback: { select: { id: true } } },
  });
  // A later closing takes the place of an earlier one.
  const latest = new Map(closings.map(({ ticketId, callback }) => [ticketId, callback]));
  return new Set([...latest].filter(([, callback]) => callback !== null).map(([id]) => id));
}
