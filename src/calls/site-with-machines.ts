import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { equipmentKindSchema } from '../trade/index.ts';
import type { glanceSchema } from './contract.ts';

type Glance = z.input<typeof glanceSchema>;
type SiteAndMachines = Pick<Glance, 'site' | 'occupant' | 'approver' | 'payer' | 'systems'>;
type Machine = Glance['systems'][number]['machines'][number];

/**
 * A site with its people, and its systems with the age and the warranties of their machines.
 * @param today on the company's calendar
 * @throws ProblemError 404 for a site that is unknown or not theirs
 */
export async function siteWithMachines(
  { prisma, actor }: Pick<ReadContext, 'prisma' | 'actor'>,
  siteId: string,
  today: string,
): Promise<SiteAndMachines> {
  const found = await prisma.site.findUnique({
    where: { id: siteId, AND: ownSites(actor) },
    select: shown,
  });
  if (found === null) throw notFound('site');
  const { occupant, approver, approverLimitCents, payer, systems, ...address } = found;
  const { latitudeDeg, longitudeDeg, ...site } = address;
  return {
    site: {
      ...site,
      place: latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg },
    },
    occupant,
    approver: { ...approver, limitCents: approverLimitCents },
    payer,
    systems: systems.map(({ equipment, ...system }) => ({
      ...system,
      machines: equipment.map((machine) => machineBody(machine, today)),
    })),
  };
}

const person = { select: { id: true, name: true, phone: true } } as const;

const shown = {
  id: true,
  street: true,
  unit: true,
  city: true,
  region: true,
  postalCode: true,
  latitudeDeg: true,
  longitudeDeg: true,
  accessNotes: true,
  occupant: person,
  approver: person,
  approverLimitCents: true,
  payer: person,
  systems: {
    orderBy: { id: 'asc' },
    select: {
      id: true,
      name: true,
      equipment: {
        orderBy: { id: 'asc' },
        select: {
          id: true,
          kind: true,
          maker: true,
          model: true,
          installedOn: true,
          partsWarrantyUntil: true,
          compressorWarrantyUntil: true,
          laborWarrantyUntil: true,
        },
      },
    },
  },
} as const;

type ShownMachine = Pick<Equipment, keyof typeof shown.systems.select.equipment.select>;

function machineBody(machine: ShownMachine, today: string): Machine {
  const { id, kind, maker, model, installedOn } = machine;
  const warranties = [
    { of: 'parts', last: machine.partsWarrantyUntil },
    { of: 'compressor', last: machine.compressorWarrantyUntil },
    { of: 'labor', last: machine.laborWarrantyUntil },
  ] as const;
  return {
    id,
    kind: equipmentKindSchema.parse(kind),
    maker,
    model,
    ageYears: installedOn && yearsBetween(dayText(installedOn), today),
    warranties: warranties.flatMap(({ of, last }) => {
      if (last === null) return [];
      const until = dayText(last);
      return [{ of, until, holds: today <= until }];
    }),
  };
}

/** Whole years from one day to another: a year is full on the same day of the year. */
function yearsBetween(from: string, to: string): number {
  const years = Number(to.slice(0, 4)) - Number(from.slice(0, 4));
  return to.slice(4) < from.slice(4) ? years - 1 : years;
}
