import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { usualRounds } from '../planning/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { DayPlan } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { dayToPlan } from './day-to-plan.ts';
import { planBeside } from './plan-beside.ts';
import { planContent } from './plan-content.ts';
import { restsOn } from './rests-on.ts';

/** The same day gives the same plan: whoever asks twice is not told two things. */
const SEED = 1;

/**
 * Plans a day anew and keeps the proposal with what it rests on. Nothing on the board changes by it.
 * @throws ProblemError 400 for a day that is over; 409 when no price book is in force
 */
export async function proposeDayPlan(act: ActContext, day: string): Promise<DayPlan> {
  const { timeZone } = await companyOf(act.tx);
  if (day < localDay(act.now, timeZone)) throw dayOver();
  const reader = { prisma: act.tx, sql: sqlOf(act.tx), now: act.now };
  const today = await dayToPlan(reader, day);
  const effort = { seed: SEED, rounds: usualRounds };
  const { crews, stops } = today;
  const found = await planBeside({ crews, stops, road: today.work.road, effort });
  const content = planContent(today, found);
  const plan = await act.tx.dayPlan.create({
    data: {
      id: act.newId(),
      day: dateOfDay(day),
      restsOn: restsOn(today.work, today.waiting),
      content,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'day_plan.proposed',
    subject: { kind: 'day_plan', id: plan.id },
    after: { day, contentSha256: sha256(canonicalJson(content)) },
  });
  return plan;
}

function dayOver(): ProblemError {
  const message = 'must not be over';
  return new ProblemError('validation-failed', 'Some fields are not as expected.', {
    errors: [{ in: 'path', pointer: '/day', code: 'day_over', message }],
  });
}
