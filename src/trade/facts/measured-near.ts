import { type PointCode, pointWords } from '../words/points.ts';
import type { Quantity } from '../words/quantities.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt, measuredFrom, readingsAt, type Settled } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';

/** Readings and looks that describe the minutes in question, the latest of them above all. */
export type Minutes = { readingIds: readonly string[]; observationIds: readonly string[] };

/**
 * One quantity at one point in the same minutes as something else on record: what stood there half
 * an hour later, after a reset, says nothing of them. While nothing else is on record, whatever was
 * measured.
 */
export function measuredNear(
  facts: Facts,
  point: PointCode,
  quantity: Quantity,
  minutes: Minutes,
): Settled {
  const settled = measuredAt(facts, point, quantity);
  const takenAt = latestInstant(facts, minutes);
  if (settled.kind !== 'settled' || takenAt === undefined) return settled;
  const readings = readingsAt(facts, point, quantity);
  const nearest = nearestInTime({ takenAt }, readings);
  if (nearest !== undefined) {
    return { kind: 'settled', measured: measuredFrom(nearest), doubts: settled.doubts };
  }
  const why = `Measure again within ${pairGapMinutesMax} minutes of each other: ${pointWords[point].name}.`;
  return { kind: 'unusable', why, readingIds: readings.map(({ id }) => id) };
}

/** When the latest of these readings was taken or the latest of these looks made. */
export function latestInstant(facts: Facts, minutes: Minutes): string | undefined {
  const { readingIds, observationIds } = minutes;
  const instants = [
    ...facts.readings.filter(({ id }) => readingIds.includes(id)).map(({ takenAt }) => takenAt),
    ...facts.observations.filter(({ id }) => observationIds.includes(id)).map(({ at }) => at),
  ];
  return instants.sort((a, b) => Date.parse(a) - Date.parse(b)).at(-1);
}
