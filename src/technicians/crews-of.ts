import { companyOf } from '../company/index.ts';
import { dispatchPolicyOf } from '../dispatch-policy/index.ts';
import type { Crew } from '../planning/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { baseOf } from './base-of.ts';
import { helpersOn } from './helpers-on.ts';
import { hoursOf } from './hours-of.ts';
import { mayHandleRefrigerant } from './may-handle-refrigerant.ts';
import { isTechnician } from './technician-of.ts';

type Tables = Pick<
  Tx,
  'company' | 'dispatchPolicy' | 'helperDays' | 'staff' | 'workAbsence' | 'workWeek'
>;

/** Everybody who drives out, on one day. */
export interface CrewsOfDay {
  /**
   * Also who has no hours that day: what is promised with them is theirs until it is moved.
   */
  readonly crews: readonly Crew[];
  /** Who has no base, where the company has none either: no travel can be reckoned for them. */
  readonly withoutBase: readonly string[];
}

/**
 * The technicians of a local day as a plan of it wants them. Whoever goes along with another has no
 * hours of their own that day; whoever is away goes along with nobody.
 * @param day as `2026-07-14`
 */
export async function crewsOf(prisma: Tables, day: string): Promise<CrewsOfDay> {
  const { timeZone } = await companyOf(prisma);
  const { base: usualBase } = await dispatchPolicyOf(prisma);
  const technicians = await prisma.staff.findMany({
    where: isTechnician,
    include: { profile: true },
    orderBy: { id: 'asc' },
  });
  const ids = technicians.map(({ id }) => id);
  const hours = await hoursOf(prisma, ids, day, timeZone);
  const isAway = (id: string) => {
    const { absence, hours: worked = [] } = hours.get(id) ?? {};
    return Boolean(absence) && worked.length === 0;
  };
  const pairs = (await helpersOn(prisma, day)).filter(({ helper }) => !isAway(helper.id));
  const based = technicians.map((each) => ({ ...each, base: baseOf(each) ?? usualBase }));
  const crews = based.flatMap(({ id, base, profile, epa608Type }): Crew[] => {
    if (base === null) return [];
    const goesAlong = pairs.some(({ helper }) => helper.id === id);
    const skills = profile?.skills ?? [];
    return [
      {
        technicianId: id,
        base,
        hours: goesAlong ? [] : (hours.get(id)?.hours ?? []),
        skills: mayHandleRefrigerant(epa608Type) ? [...skills, 'refrigerant'] : skills,
        helpers: pairs.filter(({ technician }) => technician.id === id).length,
      },
    ];
  });
  const withoutBase = based.filter(({ base }) => base === null).map(({ id }) => id);
  return { crews, withoutBase };
}
