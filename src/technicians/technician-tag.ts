import { companyOf, localDay } from '../company/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Tx } from '../platform/database/database.ts';
import { sha256 } from '../platform/sha256.ts';
import type { Technician } from './technician-of.ts';

type Tables = Pick<Tx, 'certificate' | 'company' | 'helperDays' | 'workAbsence' | 'workWeek'>;

/**
 * The tag of a technician, whatever day they are shown on. It is a hash of everything on record of
 * them, because hours and days away change without a new version of the profile; and of the day it
 * is, which is shown where no other is asked for.
 */
export async function technicianTag(
  prisma: Tables,
  { id, name, phone, epa608Type, profile }: Technician,
  now: Date,
): Promise<string> {
  const { timeZone } = await companyOf(prisma);
  const orderBy = { id: 'asc' } as const;
  const taken = { id: true, withdrawnAt: true } as const;
  const of = { technicianId: id };
  const weeks = await prisma.workWeek.findMany({ where: of, orderBy, select: { id: true } });
  const absences = await prisma.workAbsence.findMany({ where: of, orderBy, select: taken });
  const certificates = await prisma.certificate.findMany({
    where: { staffId: id },
    ...{ orderBy, select: taken },
  });
  const person = { select: { name: true, disabledAt: true } } as const;
  const helpers = await prisma.helperDays.findMany({
    where: { OR: [of, { helperId: id }] },
    ...{ orderBy, select: { ...taken, helper: person, technician: person } },
  });
  const shown = {
    ...{ id, name, phone, epa608Type, version: profile?.version ?? 1 },
    ...{ timeZone, today: localDay(now, timeZone) },
    weeks: weeks.map((each) => each.id),
    days: [...absences, ...certificates].map((each) => [each.id, each.withdrawnAt !== null]),
    helpers: helpers.map(({ helper, technician, ...each }) => [
      ...[each.id, each.withdrawnAt !== null],
      ...[helper, technician].flatMap((one) => [one.name, one.disabledAt !== null]),
    ]),
  };
  return `"${sha256(canonicalJson(shown)).slice(0, 16)}"`;
}
