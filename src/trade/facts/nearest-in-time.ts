import type { Reading } from '../evidence.ts';

/** Two readings of one state must describe the same minutes; 15 is common practice, no source. */
export const pairGapMinutesMax = 15;

type Timed = Pick<Reading, 'takenAt'>;

/** Of the others the reading taken closest in time, the later of two equally close; none too far. */
export function nearestInTime(reading: Timed, others: readonly Reading[]): Reading | undefined {
  const atMs = takenAtMs(reading);
  let nearest: Reading | undefined;
  let nearestMs = pairGapMinutesMax * 60_000;
  for (const other of others) {
    const gapMs = Math.abs(atMs - takenAtMs(other));
    if (gapMs > nearestMs) continue;
    nearest = other;
    nearestMs = gapMs;
  }
  return nearest;
}

/**
 * Every reading is paired with every other of many rules, and reading a date out of its text is most
 * of that work. What was read once is remembered for as long as the reading itself is; a reading
 * never changes, so no answer depends on what was asked before.
 */
const remembered = new WeakMap<Timed, number>();

function takenAtMs(reading: Timed): number {
  const known = remembered.get(reading);
  if (known !== undefined) return known;
  const atMs = Date.parse(reading.takenAt);
  remembered.set(reading, atMs);
  return atMs;
}
