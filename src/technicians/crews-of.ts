import type { Crew, Place } from '../planning/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { baseOf } from './base-of.ts';
import { helpersOn, type Pair } from './helpers-on.ts';
import { hoursOf } from './hours-of.ts';
import type { HoursOfDay } from './hours-on-days.ts';
import { mayHandleRefrigerant } from './may-handle-refrigerant.ts';
import { isTechnician, type Technician } from './technician-of.ts';

type Tables = Pick<Tx, 'helperDays' | 'staff' | 'workAbsence' | 'workWeek'>;

/** Everybody who drives out, on one day. */
export interface CrewsOfDay {
  /**
   * Also who has no hours that day: what is promised with them is theirs until it is moved.
   */
  readonly crews: readonly Crew[];
  /** Who has no base, where the company has none either: no travel can be reckoned for them. */
  readonly withoutBase: readonly string[];
}

/** What holds for the whole company. */
export interface OfCompany {
  readonly timeZone: string;
  /** Where everybody sets out from who has no base of their own. */
  readonly base: Place | null;
}

/**
 * The technicians of a local day as a plan of it wants them. Whoever goes along with another has no
 * hours of their own that day; whoever is away goes along with nobody.
 * @param day as `2026-07-14`
 */
export async function crewsOf(
  prisma: Tables,
  day: string,
  { timeZone, base: usualBase }: OfCompany,
): Promise<CrewsOfDay> {
  const technicians = await prisma.staff.findMany({
    where: isTechnician,
    include: { profile: true },
    orderBy: { id: 'asc' },
  });
  const ids = technicians.map(({ id }) => id);
  const hours = await hoursOf(prisma, ids, day, timeZone);
  const pairs = (await helpersOn(prisma, day)).filter(
    ({ helper }) => !isAway(hours.get(helper.id)),
  );
  const crews = technicians.flatMap((technician) => {
    const base = baseOf(technician) ?? usualBase;
    return base === null ? [] : [crewOf({ ...technician, base }, hours, pairs)];
  });
  const isManned = new Set(crews.map(({ technicianId }) => technicianId));
  return { crews, withoutBase: ids.filter((id) => !isManned.has(id)) };
}

function isAway(day: HoursOfDay | undefined): boolean {
  return day !== undefined && day.absence !== null && day.hours.length === 0;
}

function crewOf(
  { id, base, profile, epa608Type }: Technician & { base: Place },
  hours: ReadonlyMap<string, HoursOfDay>,
  pairs: readonly Pair[],
): Crew {
  const goesAlong = pairs.some(({ helper }) => helper.id === id);
  const skills = profile?.skills ?? [];
  return {
    technicianId: id,
    base,
    hours: goesAlong ? [] : (hours.get(id)?.hours ?? []),
    skills: mayHandleRefrigerant(epa608Type) ? [...skills, 'refrigerant'] : skills,
    helpers: pairs.filter(({ technician }) => technician.id === id).length,
  };
}
