import type { Condition } from './weigh-together.ts';

/** A condition that rests on readings alone. */
export function conditionOfReadings(
  state: Condition['state'],
  says: string,
  readingIds: readonly string[],
  readingsDisagree = false,
): Condition {
  return { state, says, readingIds, observationIds: [], readingsDisagree };
}
