import { localInstant } from '../company/index.ts';
import type { Span } from '../planning/index.ts';
import { minuteAfter } from './minutes.ts';
import type { WorkDays } from './work-days.ts';

/** Shorter than this nobody promises: what a change of the clocks leaves of a window may be. */
const MINUTES_MIN = 15;

/**
 * The arrival windows that are offered on some local days, by the policy, in epoch minutes; none
 * that has begun. On the nights the clocks change they begin and end as the clock shows it.
 */
export function offeredWindows(
  { policy, timeZone }: Pick<WorkDays, 'policy' | 'timeZone'>,
  days: readonly string[],
  now: Date,
): Span[] {
  return days.flatMap((day) =>
    policy.windows
      .map(({ startMinute, endMinute }) => ({
        from: minuteAfter(localInstant(day, startMinute, timeZone)),
        to: minuteAfter(localInstant(day, endMinute, timeZone)),
      }))
      .filter(({ from, to }) => to - from >= MINUTES_MIN && from >= minuteAfter(now)),
  );
}
