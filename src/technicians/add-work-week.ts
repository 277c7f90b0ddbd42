import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { WorkWeek } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newWorkWeekSchema } from './contract.ts';
import { technicianOf } from './technician-of.ts';

/**
 * Writes down the hours of a technician's week from a day on. What was before stays on record.
 * @throws ProblemError 404
 */
export async function addWorkWeek(
  act: ActContext,
  technicianId: string,
  { validFrom, hours }: z.output<typeof newWorkWeekSchema>,
): Promise<WorkWeek> {
  await technicianOf(act.tx, act.actor, technicianId);
  const week = await act.tx.workWeek.create({
    data: {
      id: act.newId(),
      technicianId,
      validFrom: dateOfDay(validFrom),
      hours,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'work_week.added',
    subject: { kind: 'staff', id: technicianId },
    after: { validFrom, hours },
  });
  return week;
}
