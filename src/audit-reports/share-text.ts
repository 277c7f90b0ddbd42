import { percent } from '../documents/index.ts';

/** With fewer a share tells nothing: three of four is no 75%. */
export const TELLING_MIN = 10;

/** A share as people write it: `12.5% of 1,240`, `3 of 4`; nothing where there was no such job. */
export function shareText(count: number, trials: number): string {
  if (trials === 0) return '';
  const of = `of ${trials.toLocaleString('en-US')}`;
  return trials < TELLING_MIN ? `${count} ${of}` : `${percent(count / trials)} ${of}`;
}
