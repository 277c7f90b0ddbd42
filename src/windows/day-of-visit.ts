import { companyOf, localDay } from '../company/index.ts';
import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import type { Road } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type TechnicianDay, workDays } from '../workdays/index.ts';

/**
 * The day of its technician that a visit stands in; after midnight that is the day on which a night
 * shift began.
 * @throws ProblemError 409 where nobody knows where the technician sets out
 */
export async function dayOfVisit(
  context: ReadContext,
  visit: Visit,
): Promise<{ day: TechnicianDay; road: Road }> {
  const { timeZone } = await companyOf(context.prisma);
  const local = localDay(visit.plannedStart ?? visit.windowStart, timeZone);
  const { days, road } = await workDays(context, [plusDays(local, -1), local]);
  const day = days.find(({ stops }) => stops.some(({ id }) => id === visit.id));
  if (day !== undefined) return { day, road };
  throw new ProblemError(
    'not-allowed-now',
    'Nobody knows where this technician sets out: give them, or the company, a base.',
    {
      currentState: visit.state,
      action: 'run_late',
      allowedActions: allowedActions(visitLifecycle, visit.state),
    },
  );
}
