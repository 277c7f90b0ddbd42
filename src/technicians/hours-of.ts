import type { Tx } from '../platform/database/database.ts';
import { type HoursOfDay, hoursOnDays } from './hours-on-days.ts';

/**
 * The hours of technicians on one local day, as on several.
 * @param day as `2026-07-14`
 */
export async function hoursOf(
  prisma: Pick<Tx, 'workAbsence' | 'workWeek'>,
  technicianIds: readonly string[],
  day: string,
  timeZone: string,
): Promise<Map<string, HoursOfDay>> {
  const onDays = await hoursOnDays(prisma, technicianIds, [day], timeZone);
  return new Map(
    [...onDays].flatMap(([id, byDay]) => {
      const ofDay = byDay.get(day);
      return ofDay === undefined ? [] : [[id, ofDay] as const];
    }),
  );
}
