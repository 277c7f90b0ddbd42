import { nameplateOf } from '../equipment/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { type BookHead, bookInForce } from '../pricebook/index.ts';
import type { Skill } from '../technicians/index.ts';
import { equipmentKindSchema, type Machine, observationCodeSchema } from '../trade/index.ts';
import { acceptedMinutes } from './accepted-minutes.ts';
import { type BookMinutes, type CallToEstimate, likelyMinutes } from './likely-minutes.ts';
import { callAbout, skillsFor } from './skills-for.ts';

/** What a ticket takes. */
export interface TicketNeeds {
  readonly ticketId: string;
  readonly siteId: string;
  readonly skills: readonly Skill[];
  readonly minutes: number;
  readonly minutesBasis: 'accepted_work' | 'maintenance_schedule' | 'likely_tasks' | 'usual';
  /** In a sentence. */
  readonly minutesSay: string;
}

interface Reader {
  prisma: Tx;
  now: Date;
}

/**
 * What some tickets take: skills by the machines of their sites, minutes by the work that was
 * accepted, the schedule of their agreement, or what is likely behind the call.
 * @param usualMinutes of a call of which nothing tells how long it takes
 * @returns by the identifier of the ticket; one that does not exist is not there
 * @throws ProblemError 409 when no price book is in force
 */
export async function ticketNeeds(
  { prisma, now }: Reader,
  ticketIds: readonly string[],
  usualMinutes: number,
): Promise<ReadonlyMap<string, TicketNeeds>> {
  const tickets = await prisma.ticket.findMany({
    where: { id: { in: [...ticketIds] } },
    include: withWork,
  });
  const schedules = await scheduledMinutes(prisma, ticketIds);
  const book = await bookMinutes(prisma, await bookInForce(prisma, now), usualMinutes);
  const accepted = await acceptedMinutes(prisma, tickets, book.causeSearchMinutes);
  // Many calls of one day are alike.
  const known = new Map<string, ReturnType<typeof likelyMinutes>>();
  const likely = (call: CallToEstimate) => {
    const key = JSON.stringify([
      call.systems.map((each) => each.map(withoutId)),
      call.symptoms,
      call.reported,
    ]);
    const found = known.get(key) ?? likelyMinutes(call, book);
    known.set(key, found);
    return found;
  };
  return new Map(
    tickets.map((ticket) => {
      const call = callOf(ticket);
      const { minutes, basis, says } =
        accepted.get(ticket.id) ?? schedules.get(ticket.id) ?? likely(call);
      const about = callAbout(ticket.kind, ticket.symptoms);
      return [
        ticket.id,
        {
          ticketId: ticket.id,
          siteId: ticket.siteId,
          skills: skillsFor(call.systems.flat(), about),
          ...{ minutes, minutesBasis: basis, minutesSay: says },
        },
      ];
    }),
  );
}

const withWork = {
  site: {
    select: {
      systems: {
        orderBy: { id: 'asc' },
        select: { equipment: { orderBy: { id: 'asc' } } },
      },
    },
  },
  // What was said before anybody came.
  observations: {
    where: { visitId: null, source: 'reported', answer: { not: 'unknown' } },
    orderBy: { id: 'asc' },
    select: { code: true, answer: true },
  },
} as const satisfies Prisma.TicketInclude;

type WholeTicket = Prisma.TicketGetPayload<{ include: typeof withWork }>;

function callOf({ site, symptoms, observations }: WholeTicket): CallToEstimate {
  const systems = site.systems.map(({ equipment }) =>
    equipment.map((each) => ({
      id: each.id,
      kind: equipmentKindSchema.parse(each.kind),
      nameplate: nameplateOf(each),
    })),
  );
  // Of two answers to one question the later counts.
  const reported = new Map(observations.flatMap(({ code, answer }) => reportedOf(code, answer)));
  return {
    systems: systems.filter((machines) => machines.length > 0),
    symptoms: [...symptoms].sort(),
    reported: [...reported].map(([code, answer]) => ({ code, answer })),
  };
}

function reportedOf(code: string, answer: string) {
  const known = observationCodeSchema.safeParse(code);
  if (!known.success || (answer !== 'yes' && answer !== 'no')) return [];
  return [[known.data, answer] as const];
}

function withoutId({ kind, nameplate }: Machine) {
  return { kind, nameplate };
}

function bySchedule(minutes: number) {
  const says = `${minutes} minutes, by the schedule of its agreement.`;
  return { minutes, basis: 'maintenance_schedule' as const, says };
}

async function scheduledMinutes(
  prisma: Reader['prisma'],
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, ReturnType<typeof bySchedule>>> {
  const due = await prisma.maintenanceDue.findMany({
    where: { ticketId: { in: [...ticketIds] } },
    select: {
      ticketId: true,
      agreement: { select: { schedule: { select: { minutes: true } } } },
    },
  });
  return new Map(
    due.flatMap(({ ticketId, agreement }) => {
      const minutes = agreement.schedule?.minutes;
      return minutes === undefined ? [] : [[ticketId, bySchedule(minutes)] as const];
    }),
  );
}

async function bookMinutes(
  prisma: Reader['prisma'],
  { id, policy }: BookHead,
  usualMinutes: number,
): Promise<BookMinutes> {
  const tasks = await prisma.priceBookTask.findMany({
    where: { versionId: id },
    select: { code: true, minutes: true, accessMinutes: true },
  });
  const byCode = new Map(tasks.map((task) => [task.code, task.minutes + task.accessMinutes]));
  return {
    causeSearchMinutes: policy.causeSearchMinutes,
    minutesOf: (task) => byCode.get(task),
    usualMinutes,
  };
}
