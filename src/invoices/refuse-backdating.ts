import { companyOf, localDay } from '../company/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Money of days gone by changes what the books said of them, so only the owner writes it down. Until
 * the end of the second day after, on the company's calendar, anybody may who took it.
 * @param what is written down, as `Money` or `A credit`
 * @throws ProblemError 403 for anybody but the owner when the day is more than two days back
 */
export async function refuseBackdating(
  { tx, actor, now }: ActContext,
  what: string,
  happened: Date | { day: string },
): Promise<void> {
  if (actor.role === 'owner') return;
  const { timeZone } = await companyOf(tx);
  const day = happened instanceof Date ? localDay(happened, timeZone) : happened.day;
  if (day >= plusDays(localDay(now, timeZone), -BACKDATED_DAYS_MAX)) return;
  const message = `${what} of more than two days ago is the owner’s to write down.`;
  throw new ProblemError('forbidden', message, { role: actor.role, allowedRoles: ['owner'] });
}

const BACKDATED_DAYS_MAX = 2;
