import type { Reading } from '../evidence.ts';
import { type Accuracy, methodAccuracy } from '../words/methods.ts';

/**
 * How far the true value may lie from the displayed one, in the reading's unit: percent of the
 * reading plus counts of the last digit, as meters are specified.
 * @throws RangeError when the method cannot measure the quantity; `checkReading` refuses those.
 */
export function readingUncertainty(
  reading: Pick<Reading, 'quantity' | 'value' | 'method'>,
): number {
  const accuracy = methodAccuracy(reading.method, reading.quantity);
  if (accuracy === undefined) {
    throw new RangeError(`${reading.method} cannot measure ${reading.quantity}`);
  }
  const size = Math.abs(reading.value);
  return (accuracy.percentOfReading / 100) * size + accuracy.counts * resolutionAt(size, accuracy);
}

/** The meter picks the finest range that holds the value; beyond the last it stays on the last. */
function resolutionAt(size: number, { ranges }: Accuracy): number {
  const range = ranges.find((each) => size <= each.upTo) ?? ranges.at(-1);
  return range?.resolution ?? 0;
}
