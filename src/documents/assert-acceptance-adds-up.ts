import type { AcceptancePaper } from './acceptance-paper.ts';
import { assertDated } from './assert-dated.ts';
import { assertOptionAddsUp } from './assert-option-adds-up.ts';
import { formatCents } from './format-cents.ts';

/**
 * Refuses the paper of a yes whose lines do not come to its total.
 * @throws PaperRefused with one sentence that names the place and both amounts
 */
export function assertAcceptanceAddsUp({ issuedAt, option, changes }: AcceptancePaper): void {
  assertDated(issuedAt);
  assertOptionAddsUp(option);
  formatCents(changes?.agreedCents ?? 0);
}
