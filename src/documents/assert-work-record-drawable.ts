import { assertDated } from './assert-dated.ts';
import { assertDrawable } from './assert-drawable.ts';
import { PaperRefused } from './paper-refused.ts';
import type { PaperBeforeAfter, WorkRecordPaper } from './work-record-paper.ts';

/**
 * Refuses a record with a reading that no gauge can show truly, or with two that are not of the same
 * thing side by side.
 * @throws PaperRefused
 */
export function assertWorkRecordDrawable({ issuedAt, works }: WorkRecordPaper): void {
  assertDated(issuedAt);
  for (const { readings } of works) readings.forEach(assertComparable);
}

function assertComparable({ before, after }: PaperBeforeAfter): void {
  for (const measurement of [before, after]) {
    if (measurement !== undefined) assertDrawable(measurement);
  }
  if (before === undefined || after === undefined) return;
  if (before.label !== after.label || before.unit !== after.unit) {
    throw new PaperRefused(
      `'${before.label}' in ${before.unit} before is not '${after.label}' in ${after.unit} after.`,
    );
  }
}
