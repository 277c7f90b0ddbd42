import type { Weighed } from './verdict.ts';
import type { Condition } from './weigh-together.ts';

/** That another criterion is met, for one that rests on it. */
export function whenWeighed({ criterion, readingsDisagree }: Weighed): Condition {
  const { outcome, detail, readingIds, observationIds } = criterion;
  const state = outcome === 'met' ? 'holds' : outcome === 'not_met' ? 'fails' : 'unknown';
  return { state, says: detail, readingIds, observationIds, readingsDisagree };
}
