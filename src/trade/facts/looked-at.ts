import type { Observation } from '../evidence.ts';
import type { ObservationCode } from '../words/observations.ts';
import type { PointCode } from '../words/points.ts';
import type { Quantity } from '../words/quantities.ts';

/** A thing that counts as looked at once it is on record, whatever it showed. */
export type LookedAt =
  | { observation: ObservationCode; answers: readonly Observation['answer'][] }
  | { point: PointCode; quantity: Quantity };
