import type { z } from 'zod';
import { agreementOf } from '../agreements/index.ts';
import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import type { scheduleSchema } from './contract.ts';

export type Schedule = z.input<typeof scheduleSchema>;

/**
 * In which months maintenance is due under an agreement; in none while nobody set any.
 * @throws ProblemError 404
 */
export async function scheduleOf(
  prisma: Pick<Tx, 'maintenanceSchedule' | 'siteAgreement'>,
  actor: Actor,
  agreementId: string,
): Promise<Schedule> {
  await agreementOf(prisma, actor, agreementId);
  const schedule = await prisma.maintenanceSchedule.findUnique({ where: { agreementId } });
  return schedule ?? { agreementId, months: [], minutes: null, version: 0 };
}

/** A schedule as an answer, with its tag. */
export function answerSchedule(schedule: Schedule): Reply<Schedule> {
  return { body: schedule, etag: versionTag(schedule.version) };
}
