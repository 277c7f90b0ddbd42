import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { WorkWeek } from '../platform/database/generated/client.ts';
import type { ReadContext, Reply } from '../platform/http/route.ts';
import { absenceBody, certificateBody, helperBody, workWeekBody } from './bodies.ts';
import type { wholeTechnicianSchema } from './contract.ts';
import { daysOf } from './days-of.ts';
import { technicianOf } from './technician-of.ts';
import { technicianTag } from './technician-tag.ts';

/**
 * One technician with everything that is written down of them from a day on, today unless given.
 * @throws ProblemError 404, for a technician also for anybody else
 */
export async function wholeTechnician(
  { prisma, actor, now }: ReadContext,
  id: string,
  asked: string | undefined,
): Promise<Reply<z.input<typeof wholeTechnicianSchema>>> {
  const technician = await technicianOf(prisma, actor, id);
  const { timeZone } = await companyOf(prisma);
  const day = asked ?? localDay(now, timeZone);
  const named = { select: { id: true, name: true } };
  const notOver = { lastDay: { gte: dateOfDay(day) }, withdrawnAt: null };
  const inOrder = [{ firstDay: 'asc' }, { id: 'asc' }] as const;
  const weeks = await prisma.workWeek.findMany({
    where: { technicianId: id },
    orderBy: [{ validFrom: 'asc' }, { createdAt: 'asc' }, { id: 'asc' }],
  });
  const absences = await prisma.workAbsence.findMany({
    where: { technicianId: id, ...notOver },
    orderBy: [...inOrder],
  });
  const certificates = await prisma.certificate.findMany({
    where: { staffId: id, withdrawnAt: null },
    orderBy: { id: 'asc' },
  });
  const helpers = await prisma.helperDays.findMany({
    where: { OR: [{ technicianId: id }, { helperId: id }], ...notOver },
    orderBy: [...inOrder],
    include: { helper: named, technician: named },
  });
  const [shown] = await daysOf(prisma, [technician], day);
  if (shown === undefined) throw new Error('a technician has a day');
  return {
    etag: await technicianTag(prisma, technician, now),
    body: {
      ...shown,
      workWeeks: weeksFrom(weeks, day).map(workWeekBody),
      absences: absences.map(absenceBody),
      certificates: certificates.map(certificateBody),
      helpers: helpers.map(helperBody),
    },
  };
}

/** The week that holds on a day and those that come, each as it was recorded last. */
function weeksFrom(weeks: readonly WorkWeek[], day: string): WorkWeek[] {
  const latest = new Map(weeks.map((week) => [dayText(week.validFrom), week]));
  const begins = [...latest.keys()];
  const holds = begins.findLast((begin) => begin <= day);
  return [...latest.values()].filter(
    ({ validFrom }) => holds === undefined || dayText(validFrom) >= holds,
  );
}
