import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type { DayPlan } from '../platform/database/generated/client.ts';
import { type Reader, workDays } from '../workdays/index.ts';
import {
  type ChangedSince,
  type dayPlanSchema,
  planContentSchema,
  restsOnSchema,
} from './contract.ts';
import { waitingTickets } from './day-to-plan.ts';
import { changedSince, restsOn } from './rests-on.ts';

/** What a kept plan rests on and is otherwise by now. */
export async function changedSincePlan(reader: Reader, plan: DayPlan): Promise<ChangedSince[]> {
  const work = await workDays(reader, [dayText(plan.day)]);
  const today = restsOn(work, await waitingTickets(reader));
  const content = planContentSchema.parse(plan.content);
  return changedSince(restsOnSchema.parse(plan.restsOn), today, content, reader.now);
}

/** A kept plan as an answer. */
export function dayPlanBody(
  plan: DayPlan & { use: { usedAt: Date } | null },
  changed: ChangedSince[],
): z.input<typeof dayPlanSchema> {
  return {
    id: plan.id,
    day: dayText(plan.day),
    ...planContentSchema.parse(plan.content),
    changedSince: changed,
    createdAt: plan.createdAt.toISOString(),
    usedAt: plan.use?.usedAt.toISOString() ?? null,
  };
}
