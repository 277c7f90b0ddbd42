import type { Condition } from './weigh-together.ts';

/**
 * That at least one of several signs of the same thing is so. It fails when one of them fails and
 * none holds; `unlessSaid` tells what to record while nothing is known of any.
 */
export function anyOf(unlessSaid: string, conditions: readonly Condition[]): Condition {
  const telling =
    conditions.find(({ state }) => state === 'holds') ??
    conditions.find(({ state }) => state === 'fails') ??
    conditions.find(({ readingIds, observationIds }) => readingIds.length + observationIds.length);
  if (telling !== undefined) return telling;
  return {
    state: 'unknown',
    says: unlessSaid,
    readingIds: [],
    observationIds: [],
    readingsDisagree: false,
  };
}
