import type { Settled } from '../facts/measured.ts';
import { compareWithLimit } from './compare-with-limit.ts';

/** On which side of a limit a settled value surely lies; undefined where no value is settled. */
export function sideOf(
  settled: Settled,
  limit: number,
): ReturnType<typeof compareWithLimit> | undefined {
  return settled.kind === 'settled' ? compareWithLimit(settled.measured, limit) : undefined;
}
