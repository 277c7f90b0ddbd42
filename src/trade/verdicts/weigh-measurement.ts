import type { Measured, Settled } from '../facts/measured.ts';
import { distinct } from './distinct.ts';
import type { Criterion, DrawnMeasurement, Outcome, Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';

export type Decision = {
  outcome: Outcome;
  detail: string;
  measurement?: DrawnMeasurement;
  /** What else the decision rests on, beside the readings of the value itself. */
  readingIds?: readonly string[];
  observationIds?: readonly string[];
};

/** A criterion on one settled value: `decide` sees only a value that may be judged. */
export function weighMeasurement(
  head: CriterionHead,
  settled: Settled,
  decide: (measured: Measured) => Decision,
): Weighed {
  switch (settled.kind) {
    case 'none':
      return weighed(head, [], { outcome: 'not_recorded', detail: 'Not recorded.' });
    case 'unusable':
      return weighed(head, settled.readingIds, { outcome: 'undecided', detail: settled.why });
    case 'disagree': {
      const decision: Decision = { outcome: 'undecided', detail: settled.why };
      return { ...weighed(head, settled.readingIds, decision), readingsDisagree: true };
    }
    case 'settled': {
      const { measured, doubts } = settled;
      return { ...weighed(head, measured.readingIds, decide(measured)), doubts };
    }
  }
}

function weighed(
  { id, statement, direction, weight }: CriterionHead,
  ownReadingIds: readonly string[],
  decision: Decision,
): Weighed {
  const { outcome, detail, measurement } = decision;
  const readingIds = distinct([...ownReadingIds, ...(decision.readingIds ?? [])]);
  const observationIds = [...(decision.observationIds ?? [])];
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
  if (measurement !== undefined) criterion.measurement = measurement;
  return { criterion, doubts: [], readingsDisagree: false };
}
