import { type CountedReadings, readingCounter } from './reading-counter.ts';

/** A reading as it was written down. */
export interface TakenValue {
  readonly id: string;
  readonly technicianId: string;
  readonly siteId: string;
  /** Quantity, point and rating: only what should read alike by chance alike is compared. */
  readonly kind: string;
  /** With its decimals: 38.20 was read off another display than 38.2. */
  readonly value: string;
}

/**
 * Of each technician's readings of a kind, taken in pairs one after the other at two homes, those
 * that are alike to the last digit. No reading is in two pairs, so that one pair says nothing of the
 * next and the chance is exact; whoever writes down a few values again and again is found all the
 * same.
 * @param readings in the order in which they were taken
 */
export function countRepeated(
  readings: Iterable<TakenValue>,
): ReadonlyMap<string, CountedReadings> {
  const counter = readingCounter();
  const waiting = new Map<string, TakenValue>();
  for (const reading of readings) {
    const { technicianId, kind } = reading;
    counter.know(technicianId);
    const key = `${technicianId} ${kind}`;
    const first = waiting.get(key);
    // At the same home the same machine reads alike again: the newer reading waits instead.
    if (first === undefined || first.siteId === reading.siteId) {
      waiting.set(key, reading);
      continue;
    }
    waiting.delete(key);
    const isAlike = first.value === reading.value;
    counter.count(technicianId, kind, isAlike ? [first.id, reading.id] : []);
  }
  return counter.by;
}
