import { distinct } from './distinct.ts';
import type { Criterion, Outcome, Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';
import type { Condition } from './weigh-together.ts';

/**
 * A criterion whose outcome rests on these conditions. The first figure of those that decide it is
 * handed up, for a paper to draw.
 */
export function weighedOn(
  { id, statement, direction, weight }: CriterionHead,
  outcome: Outcome,
  restsOn: readonly Condition[],
  detail: string,
  deciding: readonly Condition[] = [],
): Weighed {
  const readingIds: string[] = [];
  const observationIds: string[] = [];
  let readingsDisagree = false;
  for (const condition of restsOn) {
    addMissing(condition.readingIds, readingIds);
    addMissing(condition.observationIds, observationIds);
    readingsDisagree ||= condition.readingsDisagree;
  }
  // Every field by its name: copying a head with a spread takes several times as long.
  const criterion: Criterion = {
    id,
    statement,
    direction,
    weight,
    outcome,
    detail,
    readingIds,
    observationIds,
  };
  const measurement = deciding.find((each) => each.measurement !== undefined)?.measurement;
  if (measurement !== undefined) criterion.measurement = measurement;
  return { criterion, doubts: [], readingsDisagree };
}

/** What the conditions say, each sentence once. */
export function sentencesOf(conditions: readonly Condition[]): string {
  return distinct(conditions.map(({ says }) => says)).join(' ');
}

function addMissing(ids: readonly string[], to: string[]): void {
  for (const id of ids) {
    if (!to.includes(id)) to.push(id);
  }
}
