import { asItStands, type Crew, runRoute, type Span, type Stop } from '../planning/index.ts';
import { priorityOf } from '../priorities/index.ts';
import {
  dayNow,
  isSkillKnown,
  minuteOf,
  offeredWindows,
  placesOf,
  type Reader,
  SPARE_MINUTES_MIN,
  type TicketNeeds,
  ticketNeeds,
  type WorkDays,
  workDays,
} from '../workdays/index.ts';

/** A day with everything a plan of it is made from. */
export interface DayToPlan {
  readonly day: string;
  readonly work: WorkDays;
  /** With what is left of their hours. */
  readonly crews: readonly Crew[];
  readonly stops: readonly Stop[];
  /** The windows that can still be promised on this day. */
  readonly windows: readonly Span[];
  readonly waiting: ReadonlyMap<string, { version: number }>;
  readonly travelMinutesBefore: number;
}

/** More than a hundred technicians have room for; those who wait longest come first. */
const WAITING_MAX = 300;

/**
 * Everything that is known of a day: what is booked, as it stands, and the tickets that wait for
 * somebody to be sent.
 * @param reader its `prisma` and `sql` see one moment
 * @throws ProblemError 409 when no price book is in force
 */
export async function dayToPlan(reader: Reader, day: string): Promise<DayToPlan> {
  const work = await workDays(reader, [day]);
  const now = minuteOf(reader.now);
  const standing = work.days.map((each) => asItStands(dayNow(each), now, work.road));
  const windows = offeredWindows(work, [day], reader.now);
  const waiting = await waitingTickets(reader);
  const booked = await withNeeds(reader, work);
  return {
    ...{ day, work, windows },
    crews: standing.map(({ crew }) => crew),
    stops: [
      ...standing
        .flatMap(({ stops }) => stops)
        .map((stop) => ({ ...stop, ...booked.get(stop.id) })),
      ...(await waitingStops(reader, work, windows, [...waiting.keys()])),
    ],
    waiting,
    travelMinutesBefore: standing.reduce(
      (sum, { crew, stops }) => sum + runRoute(crew, stops, work.road).travelMinutes,
      0,
    ),
  };
}

const IN_DANGER = { dangerCode: { not: null }, dangerOverAt: null } as const;

/** Whoever waits for somebody to be sent, and may be: the oldest calls first. */
export async function waitingTickets({
  prisma,
}: Reader): Promise<Map<string, { version: number }>> {
  const tickets = await prisma.ticket.findMany({
    where: { state: 'new', phoneChecks: { none: IN_DANGER } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: WAITING_MAX,
    select: { id: true, version: true },
  });
  return new Map(tickets.map(({ id, version }) => [id, { version }]));
}

/** What leaving out a ticket costs, by its rank: no number of a later rank outweighs an earlier. */
const WEIGHTS = { 1: 100_000_000, 2: 1_000_000, 3: 10_000, 4: 100, 5: 1 } as const;

async function waitingStops(
  reader: Reader,
  work: WorkDays,
  windows: readonly Span[],
  ticketIds: readonly string[],
): Promise<Stop[]> {
  const [first] = windows;
  if (first === undefined || work.usualBase === undefined) return [];
  const earliest = Math.min(...windows.map(({ from }) => from));
  const latest = Math.max(...windows.map(({ to }) => to)) - SPARE_MINUTES_MIN;
  const needs = await ticketNeeds(reader, ticketIds, work.policy.usualMinutes);
  const priorities = await priorityOf(reader, ticketIds);
  const siteIds = [...needs.values()].map(({ siteId }) => siteId);
  const places = await placesOf(reader.sql, siteIds, work.usualBase);
  return [...needs.values()].flatMap(({ ticketId, siteId, skills, minutes }) => {
    const place = places.get(siteId)?.place;
    if (place === undefined) return [];
    return {
      ...{ id: ticketId, place, minutes, earliest, latest },
      needs: isSkillKnown(work) ? skills : [],
      helpers: 0,
      promised: false,
      weight: WEIGHTS[priorities.get(ticketId)?.rank ?? 5],
    };
  });
}

/** What it takes another technician to come for a booked visit; none may where a trip has one fee. */
async function withNeeds(
  reader: Reader,
  work: WorkDays,
): Promise<ReadonlyMap<string, Pick<Stop, 'needs'>>> {
  const visits = work.days.flatMap(({ stops }) => stops.map(({ visit }) => visit));
  const ticketIds = visits.map(({ ticketId }) => ticketId);
  const needs = await ticketNeeds(reader, ticketIds, work.policy.usualMinutes);
  return new Map(
    visits.map(({ id, ticketId, tripId }) => {
      const skills: TicketNeeds['skills'] = needs.get(ticketId)?.skills ?? [];
      const ofTrip = tripId === null ? [] : [NOBODY_ELSE];
      return [id, { needs: [...(isSkillKnown(work) ? skills : []), ...ofTrip] }];
    }),
  );
}

/** A skill that nobody has: who was booked stays, whoever that is. */
const NOBODY_ELSE = 'nobody_else';
