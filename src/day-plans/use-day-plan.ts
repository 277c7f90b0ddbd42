import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dayText } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { DayPlan } from '../platform/database/generated/client.ts';
import { isTaken } from '../platform/database/violation.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { holdVisits, type Replanned, replanVisits } from '../visits/index.ts';
import { changedSincePlan } from './answer-day-plan.ts';
import { type PlanContent, planContentSchema, type usedDayPlanSchema } from './contract.ts';

/**
 * Carries out a plan, whole or not at all: work is shifted inside its promised windows and given to
 * other technicians with the fee as it was told. Nobody new is booked: nobody told them the fee.
 * @throws ProblemError 404; 409 once it was used, or naming what it rests on and is otherwise by now
 */
export async function useDayPlan(
  act: ActContext,
  id: string,
): Promise<z.input<typeof usedDayPlanSchema>> {
  const plan = await act.tx.dayPlan.findUnique({ where: { id }, include: { use: true } });
  if (plan === null) throw notFound('day plan');
  if (plan.use !== null) throw usedAlready();
  const content = planContentSchema.parse(plan.content);
  const works = worksOf(content);
  // Looked at once before anybody has to wait for it, and once when nothing can change any more.
  await refuseOutdated(act, plan);
  const held = await holdVisits(act, works);
  await refuseOutdated(act, plan);
  await writeUse(act, plan);
  const booked = await replanVisits(act, held, works, `By the plan of ${dayText(plan.day)}.`);
  return {
    id,
    usedAt: act.now.toISOString(),
    visits: booked.map(({ id: visitId, movedFromId }) => ({
      visitId,
      movedFromId: movedFromId ?? visitId,
    })),
    placed: content.placed,
  };
}

function worksOf({ shifted, reassigned }: PlanContent): Replanned[] {
  return [...shifted, ...reassigned].map(({ visitId, technicianId, planned }) => {
    const plannedStart = new Date(planned.start);
    const plannedEnd = new Date(plannedStart.getTime() + planned.minutes * 60_000);
    return { visitId, technicianId, plannedStart, plannedEnd };
  });
}

async function refuseOutdated(act: ActContext, plan: DayPlan): Promise<void> {
  const reader = { prisma: act.tx, sql: sqlOf(act.tx), now: act.now };
  const changed = await changedSincePlan(reader, plan);
  if (changed.length === 0) return;
  throw new ProblemError(
    'not-allowed-now',
    'Something that this plan rests on is otherwise by now. Have the day planned again.',
    { currentState: 'outdated', action: 'use', allowedActions: [], changedSince: changed },
  );
}

async function writeUse(act: ActContext, { id }: DayPlan): Promise<void> {
  try {
    await act.tx.dayPlanUse.create({
      data: { dayPlanId: id, usedAt: act.now, usedById: act.actor.id },
    });
  } catch (error) {
    if (isTaken(error)) throw usedAlready();
    throw error;
  }
  await appendJournal(act, { event: 'day_plan.used', subject: { kind: 'day_plan', id } });
}

function usedAlready(): ProblemError {
  return new ProblemError('not-allowed-now', 'This plan was used already.', {
    currentState: 'used',
    action: 'use',
    allowedActions: [],
  });
}
