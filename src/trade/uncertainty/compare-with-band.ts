import { compareWithLimit } from './compare-with-limit.ts';

/** From low to high, both still inside; an end that is not given is open. */
export type Band = { low?: number; high?: number };

export type BandVerdict = 'below' | 'inside' | 'above' | 'undecided';

/**
 * Where the true value surely lies, given the uncertainty of its measurement: beyond an end only
 * when all of its doubt is beyond it, inside only when all of it is inside.
 */
export function compareWithBand(
  measured: { value: number; uncertainty: number },
  { low = -Infinity, high = Infinity }: Band,
): BandVerdict {
  if (compareWithLimit(measured, low) === 'below') return 'below';
  if (compareWithLimit(measured, high) === 'above') return 'above';
  const { value, uncertainty } = measured;
  return value - uncertainty >= low && value + uncertainty <= high ? 'inside' : 'undecided';
}
