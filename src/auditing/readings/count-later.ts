import { type CountedReadings, readingCounter } from './reading-counter.ts';

/** A reading that a quoted verdict rests on. */
export interface QuotedReading {
  readonly id: string;
  readonly technicianId: string;
  /** The fault that was found by it. */
  readonly kind: string;
  readonly takenAt: string;
  readonly quoteIssuedAt: string;
}

/** Of the readings that each technician's quotes rest on those that were taken later than the quote. */
export function countLater(
  readings: Iterable<QuotedReading>,
): ReadonlyMap<string, CountedReadings> {
  const counter = readingCounter();
  for (const { id, technicianId, kind, takenAt, quoteIssuedAt } of readings) {
    const isLater = Date.parse(takenAt) > Date.parse(quoteIssuedAt);
    counter.count(technicianId, kind, isLater ? [id] : []);
  }
  return counter.by;
}
