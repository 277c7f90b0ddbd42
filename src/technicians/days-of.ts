import type { z } from 'zod';
import { companyOf } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { baseOf } from './base-of.ts';
import { type profileSchema, skillSchema, type technicianSchema } from './contract.ts';
import { helpersOn } from './helpers-on.ts';
import { hoursOf } from './hours-of.ts';
import { mayHandleRefrigerant } from './may-handle-refrigerant.ts';
import type { Technician } from './technician-of.ts';

type Tables = Pick<Tx, 'company' | 'helperDays' | 'workAbsence' | 'workWeek'>;

/**
 * Technicians as they are shown, each with their hours on a local day.
 * @param day as `2026-07-14`
 */
export async function daysOf(
  prisma: Tables,
  technicians: readonly Technician[],
  day: string,
): Promise<z.input<typeof technicianSchema>[]> {
  const { timeZone } = await companyOf(prisma);
  const ids = technicians.map(({ id }) => id);
  const ofDay = await hoursOf(prisma, ids, day, timeZone);
  const pairs = await helpersOn(prisma, day);
  return technicians.map((each) => {
    const { hours = [], onCall = [], absence = null } = ofDay.get(each.id) ?? {};
    const led = pairs.filter(({ technician }) => technician.id === each.id);
    const own = pairs.find(({ helper }) => helper.id === each.id);
    const helpers = led.map(({ helper }) => helper);
    return {
      ...profileBody(each),
      day: {
        ...{ day, absence, helpers },
        hours: hours.map(instants),
        onCall: onCall.map(instants),
        helps: own?.technician ?? null,
      },
    };
  });
}

/** What is written down of a technician, as it is shown. */
export function profileBody(technician: Technician): z.input<typeof profileSchema> {
  const { id, name, phone, epa608Type, profile } = technician;
  return {
    ...{ id, name, phone },
    base: baseOf(technician),
    skills: (profile?.skills ?? []).map((skill) => skillSchema.parse(skill)),
    mayHandleRefrigerant: mayHandleRefrigerant(epa608Type),
    version: profile?.version ?? 1,
  };
}

function instants({ from, to }: Span) {
  return { start: instant(from), end: instant(to) };
}

function instant(minute: number): string {
  return new Date(minute * 60_000).toISOString();
}
