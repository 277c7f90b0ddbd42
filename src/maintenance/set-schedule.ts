import type { z } from 'zod';
import { agreementOf } from '../agreements/index.ts';
import { appendJournal } from '../journal/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newScheduleSchema } from './contract.ts';
import { type Schedule, scheduleOf } from './schedule-of.ts';

/**
 * Sets in which months maintenance is due under an agreement, and how long it takes. Tickets that
 * are open for it stay.
 * @throws ProblemError 404, 412 when somebody else set it first
 */
export async function setSchedule(
  act: ActContext,
  agreementId: string,
  { months, minutes }: z.output<typeof newScheduleSchema>,
): Promise<Schedule> {
  const { siteId } = await agreementOf(act.tx, act.actor, agreementId);
  // Whatever becomes of the agreements of a site happens one after the other.
  await lockRow(act.tx, 'site', siteId);
  const before = await scheduleOf(act.tx, act.actor, agreementId);
  act.mustMatch(versionTag(before.version));
  const row = { months, minutes, version: before.version + 1 };
  const after = await act.tx.maintenanceSchedule.upsert({
    where: { agreementId },
    create: { agreementId, ...row },
    update: row,
  });
  await appendJournal(act, {
    event: 'maintenance.scheduled',
    subject: { kind: 'agreement', id: agreementId },
    before: { months: before.months, minutes: before.minutes },
    after: { months, minutes },
  });
  return after;
}
