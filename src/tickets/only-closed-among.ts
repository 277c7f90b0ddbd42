import type { Tx } from '../platform/database/database.ts';

type Tables = Pick<Tx, 'ticket' | 'ticketClosing' | 'visit'>;

/**
 * Which of some tickets can only be closed, as `whyOnlyClosed` says of one: by three statements
 * however many they are.
 */
export async function onlyClosedAmong(
  prisma: Tables,
  ticketIds: readonly string[],
): Promise<ReadonlySet<string>> {
  if (ticketIds.length === 0) return new Set();
  const ids = [...ticketIds];
  const atWork = { some: { strike: null } };
  const agreedOrDone = await prisma.ticket.findMany({
    where: {
      id: { in: ids },
      OR: [
        { quotes: { some: { acceptance: { is: { cancellation: null } } } } },
        { visits: { some: { OR: [{ outcomes: atWork }, { partUses: atWork }] } } },
      ],
    },
    select: { id: true },
  });
  const trips = await prisma.visit.findMany({
    where: { ticketId: { in: ids }, state: 'finished' },
    select: { id: true, ticketId: true },
  });
  const closings = await prisma.ticketClosing.findMany({
    where: { ticketId: { in: trips.map(({ ticketId }) => ticketId) } },
    orderBy: { sequence: 'asc' },
    select: { id: true, ticketId: true },
  });
  const lastClosing = new Map(closings.map(({ ticketId, id }) => [ticketId, id]));
  // Identifiers are in the order of time: what was booked after a closing is not of it.
  const since = trips.filter(({ id, ticketId }) => id > (lastClosing.get(ticketId) ?? ''));
  return new Set([...agreedOrDone.map(({ id }) => id), ...since.map(({ ticketId }) => ticketId)]);
}
