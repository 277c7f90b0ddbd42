import { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { plannableDay } from '../platform/http/formats.ts';
import { cutPage, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { daysOf } from './days-of.ts';
import { isTechnician } from './technician-of.ts';

export const technicianListQuery = z.strictObject({ ...pageQuery, day: plannableDay.optional() });

/**
 * The technicians with their hours on a day, today unless given.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listTechnicians(
  { prisma, now }: Pick<ReadContext, 'prisma' | 'now'>,
  { limit, cursor, day: asked }: z.output<typeof technicianListQuery>,
) {
  const listing = { list: 'technicians', day: asked };
  const { where, orderBy } = readOn('oldest', startAfter(cursor, listing));
  const technicians = await prisma.staff.findMany({
    where: { ...where, ...isTechnician },
    include: { profile: true },
    orderBy,
    take: limit + 1,
  });
  const { timeZone } = await companyOf(prisma);
  const rows = await daysOf(prisma, technicians, asked ?? localDay(now, timeZone));
  return cutPage(rows, limit, listing);
}
