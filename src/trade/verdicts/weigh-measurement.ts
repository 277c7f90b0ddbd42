import type { Measured, Settled } from '../facts/measured.ts';
import { distinct } from './distinct.ts';
import type { Criterion, Measurement, Outcome, Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';

export type Decision = {
  outcome: Outcome;
  detail: string;
  measurement?: Measurement;
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
    case 'disagree':
      return {
        ...weighed(head, settled.readingIds, { outcome: 'undecided', detail: settled.why }),
        readingsDisagree: true,
      };
    case 'settled':
      return {
        ...weighed(head, settled.measured.readingIds, decide(settled.measured)),
        doubts: settled.doubts,
      };
  }
}

function weighed(head: CriterionHead, readingIds: readonly string[], decision: Decision): Weighed {
  const { outcome, detail, measurement, observationIds = [] } = decision;
  const criterion: Criterion = {
    ...head,
    outcome,
    detail,
    readingIds: distinct([...readingIds, ...(decision.readingIds ?? [])]),
    observationIds: [...observationIds],
    ...(measurement === undefined ? {} : { measurement }),
  };
  return { criterion, doubts: [], readingsDisagree: false };
}
