import { companyOf, localDay, localInstant } from '../company/index.ts';
import { phoneFactsOf } from '../phone-checks/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import {
  type Air,
  type Priority,
  type Rank,
  rankTicket,
  type TicketFacts,
} from '../priority/index.ts';
import { callbacksAmong } from '../tickets/index.ts';
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

type Books = Pick<
  Tx,
  | 'ticket'
  | 'ticketClosing'
  | 'company'
  | 'dayWeather'
  | 'priorityOverride'
  | 'siteAgreement'
  | 'partWait'
  | 'staff'
>;

/**
 * The priority of some tickets as of now, by a fixed number of statements however many they are.
 * @returns by the identifier of the ticket; one that does not exist is not there
 */
export async function priorityOf(
  prisma: Books,
  ticketIds: readonly string[],
  now: Date,
): Promise<ReadonlyMap<string, TicketPriority>> {
  const ids = [...ticketIds];
  const { timeZone } = await companyOf(prisma);
  const today = dateOfDay(localDay(now, timeZone));
  const [tickets, told, callbacks, outdoor, agreed, overdue, byHand] = await Promise.all([
    prisma.ticket.findMany({
      where: { id: { in: ids } },
      select: {
        ...{ id: true, kind: true, state: true, symptoms: true, siteId: true, createdAt: true },
        maintenance: { select: { dueMonth: true } },
        callbacks: { orderBy: { reopenedAt: 'desc' }, take: 1, select: { reopenedAt: true } },
      },
    }),
    phoneFactsOf(prisma, ids),
    callbacksAmong(prisma, ids),
    outdoorOn(prisma, today),
    underAgreement(prisma, ids, today),
    overdueAmong(prisma, ids, today),
    givenByHand(prisma, ids),
  ]);
  const priorities = tickets.map((ticket): [string, TicketPriority] => {
    const phone = told.get(ticket.id);
    const waitingSince = waitingSinceOf(ticket, timeZone);
    const isPromiseOverdue = overdue.has(ticket.id);
    const facts: TicketFacts = {
      kind: ticket.kind === 'maintenance' ? 'maintenance' : 'repair',
      danger: phone?.danger?.replaceAll('_', ' ') ?? null,
      noCooling: phone?.noCooling ?? ticket.symptoms.includes('no_cooling'),
      noHeating: ticket.symptoms.includes('no_heating'),
      vulnerable: phone?.vulnerable?.map(vulnerableWords) ?? null,
      hasCoolerPlace: phone?.hasCoolerPlace ?? null,
      indoor: airOf(phone?.indoorTempDegF, phone?.relativeHumidityPercent),
      outdoor,
      waterSpreading: phone?.waterSpreading ?? false,
      isCallback: callbacks.has(ticket.id),
      isPromiseOverdue,
      hasAgreement: agreed.has(ticket.siteId),
      isOurTurn:
        isPromiseOverdue ||
        (ticket.state !== 'waiting_for_answer' && ticket.state !== 'waiting_for_part'),
      waitingMinutes: Math.max(0, Math.floor((now.getTime() - waitingSince.getTime()) / 60_000)),
    };
    const hand = byHand.get(ticket.id);
    // What somebody said of an earlier call says nothing of this one.
    const since = hand !== undefined && hand.at >= lastCallOf(ticket) ? hand : undefined;
    return [ticket.id, withHand(ticket.id, rankTicket(facts), since, waitingSince)];
  });
  return new Map(priorities);
}

interface Called {
  createdAt: Date;
  callbacks: { reopenedAt: Date }[];
  maintenance: { dueMonth: Date } | null;
}

/** When somebody called for it last. */
function lastCallOf({ createdAt, callbacks: [callback] }: Called): Date {
  return callback?.reopenedAt ?? createdAt;
}

/** Nobody waits for maintenance before the month it is due in. */
function waitingSinceOf(ticket: Called, timeZone: string): Date {
  const called = lastCallOf(ticket);
  if (ticket.maintenance === null) return called;
  const due = localInstant(dayText(ticket.maintenance.dueMonth), 0, timeZone);
  return new Date(Math.max(due.getTime(), called.getTime()));
}

function withHand(
  ticketId: string,
  ruled: Priority,
  byHand: TicketPriority['byHand'] | undefined,
  waitingSince: Date,
): TicketPriority {
  const hand = byHand ?? null;
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

/** The sites of some tickets that are under an agreement on a day. */
async function underAgreement(
  prisma: Pick<Tx, 'siteAgreement'>,
  ticketIds: string[],
  day: Date,
): Promise<ReadonlySet<string>> {
  const agreements = await prisma.siteAgreement.findMany({
    where: {
      startsOn: { lte: day },
      endsOn: { gt: day },
      site: { tickets: { some: { id: { in: ticketIds } } } },
    },
    select: { siteId: true },
  });
  return new Set(agreements.map(({ siteId }) => siteId));
}

/** Tickets that wait for a part whose latest promised day is over. */
async function overdueAmong(
  prisma: Pick<Tx, 'partWait'>,
  ticketIds: string[],
  day: Date,
): Promise<ReadonlySet<string>> {
  const waits = await prisma.partWait.findMany({
    where: { ticketId: { in: ticketIds }, ticket: { state: 'waiting_for_part' } },
    orderBy: [{ recordedAt: 'asc' }, { id: 'asc' }],
    select: { ticketId: true, promisedOn: true },
  });
  // A later promise takes the place of an earlier one.
  const latest = new Map(waits.map(({ ticketId, promisedOn }) => [ticketId, promisedOn]));
  return new Set([...latest].filter(([, promisedOn]) => promisedOn < day).map(([id]) => id));
}

/** What people gave by hand and nobody has lifted since. */
async function givenByHand(
  prisma: Pick<Tx, 'priorityOverride' | 'staff'>,
  ticketIds: string[],
): Promise<ReadonlyMap<string, NonNullable<TicketPriority['byHand']>>> {
  const given = await prisma.priorityOverride.findMany({
    where: { ticketId: { in: ticketIds } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });
  const names = new Map(
    (
      await prisma.staff.findMany({
        where: { id: { in: given.map(({ createdById }) => createdById) } },
        select: { id: true, name: true },
      })
    ).map(({ id, name }) => [id, name]),
  );
  const latest = new Map(given.map((each) => [each.ticketId, each]));
  return new Map(
    [...latest.values()].flatMap(({ ticketId, rank, reason, createdById, createdAt }) =>
      rank === null
        ? []
        : [
            [
              ticketId,
              { rank: rankOf(rank), reason, byName: names.get(createdById) ?? '', at: createdAt },
            ],
          ],
    ),
  );
}

/** A stored rank; the database lets no other in. */
function rankOf(rank: number): Rank {
  if (rank === 1 || rank === 2 || rank === 3 || rank === 4 || rank === 5) return rank;
  throw new Error(`there is no rank ${rank}`);
}
