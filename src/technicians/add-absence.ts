import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { ActContext } from '../platform/http/route.ts';
import { absenceBody } from './bodies.ts';
import type { addedAbsenceSchema, newAbsenceSchema } from './contract.ts';
import { technicianOf } from './technician-of.ts';
import { visitsOutsideHours } from './visits-outside-hours.ts';

/**
 * Writes down days on which a technician works other hours than those of the week, or none. What is
 * booked with them then stays booked: it is named, so that somebody moves it.
 * @throws ProblemError 404
 */
export async function addAbsence(
  act: ActContext,
  technicianId: string,
  input: z.output<typeof newAbsenceSchema>,
): Promise<z.input<typeof addedAbsenceSchema>> {
  await technicianOf(act.tx, act.actor, technicianId);
  const { firstDay, lastDay, why, hours } = input;
  const absence = await act.tx.workAbsence.create({
    data: {
      id: act.newId(),
      technicianId,
      firstDay: dateOfDay(firstDay),
      lastDay: dateOfDay(lastDay),
      why,
      hours,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  // Why somebody is away is theirs: it stands in the row, which only the office reads.
  await appendJournal(act, {
    event: 'absence.added',
    subject: { kind: 'absence', id: absence.id },
    after: { technicianId, firstDay, lastDay, hours },
  });
  // Who is on call beside their hours is away from nothing; who is away is not called either.
  const affectedVisits =
    why === 'on_call' ? [] : await visitsOutsideHours(act.tx, technicianId, input, 'hours');
  return { ...absenceBody(absence), affectedVisits };
}
