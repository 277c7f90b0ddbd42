import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Settled } from './measured.ts';

/** On which side of a limit a settled value surely lies; undefined where no value is settled. */
export function sideOf(
  settled: Settled,
  limit: number,
): ReturnType<typeof compareWithLimit> | undefined {
  return settled.kind === 'settled' ? compareWithLimit(settled.measured, limit) : undefined;
}
