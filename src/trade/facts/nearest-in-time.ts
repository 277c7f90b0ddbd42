import type { Reading } from '../evidence.ts';

/** Two readings of one state must describe the same minutes; 15 is common practice, no source. */
export const pairGapMinutesMax = 15;

/** Of the others the reading taken closest in time, the later of two equally close; none too far. */
export function nearestInTime(
  reading: Pick<Reading, 'takenAt'>,
  others: readonly Reading[],
): Reading | undefined {
  let nearest: Reading | undefined;
  for (const other of others) {
    if (gapMinutes(reading, other) > pairGapMinutesMax) continue;
    if (nearest === undefined || gapMinutes(reading, other) <= gapMinutes(reading, nearest)) {
      nearest = other;
    }
  }
  return nearest;
}

function gapMinutes(a: Pick<Reading, 'takenAt'>, b: Reading): number {
  return Math.abs(Date.parse(a.takenAt) - Date.parse(b.takenAt)) / 60_000;
}
