import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { inFives } from './in-fives.ts';

type Tables = Pick<Tx, 'quoteAcceptance' | 'quoteLine'>;

/** How long work takes that somebody said yes to. */
export interface AcceptedMinutes {
  readonly minutes: number;
  readonly basis: 'accepted_work';
  readonly says: string;
}

/**
 * How long it takes to come back to tickets with a yes that stands: the minutes of the accepted work
 * that is not done. Where all of it is done and the trouble came back, a look for the cause and that
 * work over again.
 * @param causeSearchMinutes by the policy of the price book
 * @returns by the identifier of the ticket; one of which a yes tells nothing is not there
 */
export async function acceptedMinutes(
  prisma: Tables,
  tickets: readonly Pick<Ticket, 'id' | 'firstClosedAt'>[],
  causeSearchMinutes: number,
): Promise<ReadonlyMap<string, AcceptedMinutes>> {
  const lines = await soldTime(
    prisma,
    tickets.map(({ id }) => id),
  );
  return new Map(
    tickets.flatMap(({ id, firstClosedAt }) => {
      const own = lines.filter(({ ticketId }) => ticketId === id);
      const left = told(own.filter(({ isDone }) => !isDone));
      if (left !== undefined) return [[id, left] as const];
      // A ticket that was closed and is asked about again was reopened.
      const again = firstClosedAt === null ? undefined : told(own, causeSearchMinutes);
      return again === undefined ? [] : [[id, again] as const];
    }),
  );
}

interface SoldTime {
  ticketId: string;
  quoteNumber: number;
  minutes: number;
  isDone: boolean;
}

function told(lines: readonly SoldTime[], causeSearchMinutes?: number) {
  const sold = lines.reduce((sum, line) => sum + line.minutes, 0);
  if (sold === 0) return undefined;
  const numbers = [...new Set(lines.map(({ quoteNumber }) => quoteNumber))].sort((a, b) => a - b);
  const quotes = `${numbers.length === 1 ? 'quote' : 'quotes'} ${numbers.join(', ')}`;
  const minutes = inFives(sold + (causeSearchMinutes ?? 0));
  const says =
    causeSearchMinutes === undefined
      ? `${minutes} minutes, for the accepted work of ${quotes} that is not done.`
      : `${minutes} minutes: ${causeSearchMinutes} to look for the cause, the rest for the work of ` +
        `${quotes} over again.`;
  return { minutes, basis: 'accepted_work' as const, says };
}

/** The lines of labor and of getting there that somebody agreed to, and whether that is done. */
async function soldTime(prisma: Tables, ticketIds: string[]): Promise<SoldTime[]> {
  const yeses = await prisma.quoteAcceptance.findMany({
    where: { quote: { ticketId: { in: ticketIds } }, cancellation: null },
    select: {
      optionId: true,
      quote: { select: { ticketId: true, number: true } },
      outcomes: { where: { outcome: 'done', strike: null }, select: { findingId: true } },
    },
  });
  const lines = await prisma.quoteLine.findMany({
    where: {
      optionId: { in: yeses.map(({ optionId }) => optionId) },
      kind: { in: ['labor', 'access'] },
    },
    select: { optionId: true, minutes: true, findingIds: true },
  });
  return yeses.flatMap(({ optionId, quote, outcomes }) => {
    const done = new Set(outcomes.map(({ findingId }) => findingId));
    return lines
      .filter((line) => line.optionId === optionId)
      .map(({ minutes, findingIds }) => ({
        ...{ ticketId: quote.ticketId, quoteNumber: quote.number, minutes: minutes ?? 0 },
        // The way in is needed again as long as anything behind it is left.
        isDone: findingIds.every((id) => done.has(id)),
      }));
  });
}
