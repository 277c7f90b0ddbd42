import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { helperBody } from './bodies.ts';
import type { addedHelperSchema, newHelperSchema } from './contract.ts';
import { liveVisitsOn } from './live-visits-on.ts';
import { isTechnician, technicianOf } from './technician-of.ts';

type NewHelper = z.output<typeof newHelperSchema>;

/**
 * Lets somebody go along with a technician on some days. They drive out alone on none of them, so
 * what is booked with them then is named.
 * @throws ProblemError 404, 422 for a helper who is no technician, or is the technician; 409 when the
 *   helper goes with somebody then, or either of them has a helper of their own or is one
 */
export async function addHelper(
  act: ActContext,
  technicianId: string,
  input: NewHelper,
): Promise<z.input<typeof addedHelperSchema>> {
  const { helperId, firstDay, lastDay } = input;
  await technicianOf(act.tx, act.actor, technicianId);
  await requireHelper(act, technicianId, helperId);
  // In one order, so that two who pair the same people the other way round wait and do not deadlock.
  for (const id of [technicianId, helperId].sort()) await lockRow(act.tx, 'staff', id);
  await refuseTakenDays(act, technicianId, input);
  const named = { select: { id: true, name: true } };
  const days = await act.tx.helperDays.create({
    data: {
      id: act.newId(),
      ...{ helperId, technicianId },
      firstDay: dateOfDay(firstDay),
      lastDay: dateOfDay(lastDay),
      createdAt: act.now,
      createdById: act.actor.id,
    },
    include: { helper: named, technician: named },
  });
  await appendJournal(act, {
    event: 'helper.added',
    subject: { kind: 'helper_days', id: days.id },
    after: { helperId, technicianId, firstDay, lastDay },
  });
  const booked = await liveVisitsOn(act.tx, helperId, input);
  const affectedVisits = booked.map(({ told }) => told);
  return { ...helperBody(days), affectedVisits };
}

async function requireHelper(
  { tx }: ActContext,
  technicianId: string,
  helperId: string,
): Promise<void> {
  const helper = await tx.staff.findUnique({ where: { id: helperId, ...isTechnician } });
  if (helper !== null && helperId !== technicianId) return;
  throw unknownReference('/helperId', 'There is no such technician beside them.');
}

/** Nobody goes with two, and whoever goes along leads nobody. */
async function refuseTakenDays(
  { tx }: ActContext,
  technicianId: string,
  { helperId, firstDay, lastDay }: NewHelper,
): Promise<void> {
  const other = await tx.helperDays.findFirst({
    where: {
      withdrawnAt: null,
      firstDay: { lte: dateOfDay(lastDay) },
      lastDay: { gte: dateOfDay(firstDay) },
      OR: [{ helperId }, { technicianId: helperId }, { helperId: technicianId }],
    },
    orderBy: { firstDay: 'asc' },
    include: { helper: true, technician: true },
  });
  if (other === null) return;
  const span = `from ${dayText(other.firstDay)} to ${dayText(other.lastDay)}`;
  throw new ProblemError(
    'already-exists',
    `${other.helper.name} goes along with ${other.technician.name} ${span}.`,
    { id: other.id },
  );
}
