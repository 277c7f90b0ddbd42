import { companyOf, localDay, localInstant } from '../company/index.ts';
import { type PhoneFacts, phoneFactsOf } from '../phone-checks/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import {
  type Air,
  type Priority,
  type Rank,
  rankTicket,
  type TicketFacts,
} from '../priority/index.ts';
import { type KnownOfTicket, knownOfTickets } from './known-of-tickets.ts';
import { vulnerableWords } from './vulnerable-words.ts';

/** Where a ticket stands, by the rules or by the hand of a person. */
export interface TicketPriority extends Priority {
  ticketId: string;
  /** By hand where somebody gave one. */
  rank: Rank;
  /** What the rules say, whatever a person said. */
  ruledRank: Rank;
  byHand: { rank: Rank; reason: string; byName: string; at: Date } | null;
  waitingSince: Date;
}

/** The books of one moment, or of a transaction. */
export interface Reader {
  prisma: Pick<Tx, 'company' | 'dayWeather' | 'ticket'>;
  sql: Sql;
  now: Date;
}

/**
 * The priority of some tickets as of now, by a fixed number of statements however many they are.
 * @returns by the identifier of the ticket; one that does not exist is not there
 */
export async function priorityOf(
  { prisma, sql, now }: Reader,
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, TicketPriority>> {
  const { timeZone } = await companyOf(prisma);
  const known = await knownOfTickets(sql, ticketIds, localDay(now, timeZone));
  return priorityOfKnown({ prisma, now, timeZone }, known);
}

/** As `priorityOf`, of tickets of which the rest is known. */
export async function priorityOfKnown(
  { prisma, now, timeZone }: Omit<Reader, 'sql'> & { timeZone: string },
  known: readonly KnownOfTicket[],
): Promise<ReadonlyMap<string, TicketPriority>> {
  const asked = known.filter(({ wasAskedByPhone }) => wasAskedByPhone);
  const [outdoor, told] = await Promise.all([
    outdoorOn(prisma, dateOfDay(localDay(now, timeZone))),
    phoneFactsOf(
      prisma,
      asked.map(({ ticketId }) => ticketId),
    ),
  ]);
  return new Map(
    known.map((ticket) => {
      const { ticketId } = ticket;
      const waitingSince = waitingSinceOf(ticket, timeZone);
      const facts = factsOf(ticket, { phone: told.get(ticketId), outdoor, waitingSince, now });
      return [ticketId, withHand(ticketId, rankTicket(facts), handOf(ticket), waitingSince)];
    }),
  );
}

interface Beside {
  phone: PhoneFacts | undefined;
  outdoor: Air | null;
  waitingSince: Date;
  now: Date;
}

function factsOf(
  ticket: KnownOfTicket,
  { phone, outdoor, waitingSince, now }: Beside,
): TicketFacts {
  const { kind, state, symptoms, isCallback, isPromiseOverdue, hasAgreement } = ticket;
  return {
    kind: kind === 'maintenance' ? 'maintenance' : 'repair',
    danger: phone?.danger?.replaceAll('_', ' ') ?? null,
    noCooling: phone?.noCooling ?? symptoms.includes('no_cooling'),
    noHeating: symptoms.includes('no_heating'),
    vulnerable: phone?.vulnerable?.map(vulnerableWords) ?? null,
    hasCoolerPlace: phone?.hasCoolerPlace ?? null,
    indoor: airOf(phone?.indoorTempDegF, phone?.relativeHumidityPercent),
    outdoor,
    waterSpreading: phone?.waterSpreading ?? false,
    ...{ isCallback, isPromiseOverdue, hasAgreement },
    isOurTurn: isPromiseOverdue || (state !== 'waiting_for_answer' && state !== 'waiting_for_part'),
    waitingMinutes: Math.max(0, Math.floor((now.getTime() - waitingSince.getTime()) / 60_000)),
  };
}

/** When somebody called for it last. */
function lastCallOf({ createdAt, reopenedAt }: KnownOfTicket): Date {
  return reopenedAt ?? createdAt;
}

/** Nobody waits for maintenance before the month it is due in. */
function waitingSinceOf(ticket: KnownOfTicket, timeZone: string): Date {
  const called = lastCallOf(ticket);
  if (ticket.dueMonth === null) return called;
  const due = localInstant(ticket.dueMonth, 0, timeZone);
  return new Date(Math.max(due.getTime(), called.getTime()));
}

/** What somebody gave by hand and nobody has lifted; what was said of an earlier call says nothing. */
function handOf(ticket: KnownOfTicket): TicketPriority['byHand'] {
  const { hand } = ticket;
  if (hand === null || hand.rank === null) return null;
  const at = new Date(hand.at);
  return at < lastCallOf(ticket)
    ? null
    : { rank: rankOf(hand.rank), reason: hand.reason, byName: hand.byName, at };
}

function withHand(
  ticketId: string,
  ruled: Priority,
  hand: TicketPriority['byHand'],
  waitingSince: Date,
): TicketPriority {
  const rank = handedRank(ruled, hand);
  const sentence =
    hand === null || rank !== hand.rank
      ? ruled.sentence
      : `Rank ${rank} by ${hand.byName}: ${hand.reason} By the rules: ${ruled.sentence}`;
  return {
    ...ruled,
    ...{ ticketId, rank, sentence, waitingSince },
    ruledRank: ruled.rank,
    byHand: hand,
  };
}

/** A person may bring anything forward; nobody puts a danger back. */
function handedRank(ruled: Priority, hand: TicketPriority['byHand']): Rank {
  if (hand === null || ruled.reasons.some(({ code }) => code === 'danger')) return ruled.rank;
  return hand.rank;
}

function airOf(
  tempDegF: number | null | undefined,
  relativeHumidityPercent: number | null | undefined,
): Air | null {
  if (tempDegF === null || tempDegF === undefined) return null;
  return { tempDegF, relativeHumidityPercent: relativeHumidityPercent ?? null };
}

async function outdoorOn(prisma: Pick<Tx, 'dayWeather'>, day: Date): Promise<Air | null> {
  const weather = await prisma.dayWeather.findUnique({ where: { day } });
  return airOf(weather?.highDegF, weather?.relativeHumidityPercent);
}

/** A stored rank; the database lets no other in. */
function rankOf(rank: number): Rank {
  if (rank === 1 || rank === 2 || rank === 3 || rank === 4 || rank === 5) return rank;
  throw new Error(`there is no rank ${rank}`);
}
