import { type CountedReadings, readingCounter } from './reading-counter.ts';

/** A reading that decides a capacitor: outside its limit by more than its method's uncertainty. */
export interface DecisiveReading {
  readonly id: string;
  readonly technicianId: string;
  /** What is compared with what: the section it was read on, say. */
  readonly kind: string;
  readonly value: number;
  /** From here on it decides: the limit less, or from above more, the method's uncertainty. */
  readonly decidesAt: number;
  /** What the nameplate says, in the same unit. */
  readonly rating: number;
}

/** Of the rating. Capacitors that fail for themselves lie anywhere down to nothing; common practice, no source. */
const NEAR_SHARE = 0.01;
/** A binary fraction must not decide on which side of the edge a decimal reading lies. */
const LAST_DIGIT = 1e-9;

/** Of each technician's decisive readings those that lie just past where they decide. */
export function countBunched(
  readings: Iterable<DecisiveReading>,
): ReadonlyMap<string, CountedReadings> {
  const counter = readingCounter();
  for (const { id, technicianId, kind, value, decidesAt, rating } of readings) {
    const isNear = Math.abs(value - decidesAt) <= NEAR_SHARE * rating + LAST_DIGIT;
    counter.count(technicianId, kind, isNear ? [id] : []);
  }
  return counter.by;
}
