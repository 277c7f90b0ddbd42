import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { ActContext } from '../platform/http/route.ts';
import { workWeekBody } from './bodies.ts';
import type { addedWorkWeekSchema, newWorkWeekSchema } from './contract.ts';
import { technicianOf } from './technician-of.ts';
import { visitsOutsideHours } from './visits-outside-hours.ts';

/**
 * Writes down the hours of a technician's week from a day on. What was before stays on record.
 * What is booked with them and no longer within their hours stays booked: it is named, so that
 * somebody moves it.
 * @throws ProblemError 404
 */
export async function addWorkWeek(
  act: ActContext,
  technicianId: string,
  { validFrom, hours }: z.output<typeof newWorkWeekSchema>,
): Promise<z.input<typeof addedWorkWeekSchema>> {
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
  // What was to be done before today nobody moves any more.
  const today = localDay(act.now, (await companyOf(act.tx)).timeZone);
  const firstDay = validFrom > today ? validFrom : today;
  const affectedVisits = await visitsOutsideHours(
    act.tx,
    technicianId,
    { firstDay },
    'hours_or_on_call',
  );
  return { ...workWeekBody(week), affectedVisits };
}
