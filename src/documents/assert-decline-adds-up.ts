import { assertDated } from './assert-dated.ts';
import { assertDrawable } from './assert-drawable.ts';
import { assertSum } from './assert-sum.ts';
import type { DeclinePaper } from './decline-paper.ts';
import { formatCents } from './format-cents.ts';

/**
 * Refuses the paper of a no whose amounts do not come to what it says is owed.
 * @throws PaperRefused with one sentence that names the place and both amounts
 */
export function assertDeclineAddsUp(paper: DeclinePaper): void {
  const { issuedAt, decline, findings, offered } = paper;
  assertDated(issuedAt);
  assertSum('Declining', decline.amounts, decline.totalCents);
  for (const { totalCents } of offered) formatCents(totalCents);
  for (const { measurements } of findings) measurements.forEach(assertDrawable);
}
