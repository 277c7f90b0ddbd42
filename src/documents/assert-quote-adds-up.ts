import { assertDated } from './assert-dated.ts';
import { assertDrawable } from './assert-drawable.ts';
import { assertOptionAddsUp } from './assert-option-adds-up.ts';
import { assertSum } from './assert-sum.ts';
import { formatCents } from './format-cents.ts';
import { PaperRefused } from './paper-refused.ts';
import type { QuotePaper } from './quote-paper.ts';

/**
 * Refuses a paper whose lines do not sum to its totals to the cent, or that says something that
 * cannot be drawn truly (no option, more than three, a limit above its own upper limit). Nothing is
 * corrected here: a paper that does not add up was made wrongly upstream.
 *
 * @throws PaperRefused with one sentence that names the place and both amounts.
 */
export function assertQuoteAddsUp(paper: QuotePaper): void {
  if (!Number.isInteger(paper.revision) || paper.revision < 1) {
    throw new PaperRefused(`A revision is counted from 1, not ${paper.revision}.`);
  }
  assertDated(paper.issuedAt);
  if (paper.options.length < 1 || paper.options.length > 3) {
    throw new PaperRefused(`A quote offers one to three options, not ${paper.options.length}.`);
  }
  const letters = paper.options.map((option) => option.letter);
  if (new Set(letters).size !== letters.length) {
    throw new PaperRefused(`Two options share a letter: ${letters.join(', ')}.`);
  }
  paper.options.forEach(assertOptionAddsUp);
  assertSum('Declining', paper.decline.amounts, paper.decline.totalCents);
  if (paper.changes !== undefined) assertChangeOrder(paper);
  for (const finding of paper.findings) finding.measurements.forEach(assertDrawable);
}

/** A no to a change order costs nothing: what it changes stands. */
function assertChangeOrder({ decline, changes }: QuotePaper): void {
  if (decline.totalCents !== 0) {
    throw new PaperRefused(`A no to a change order would cost ${decline.totalCents} cents.`);
  }
  formatCents(changes?.agreedCents ?? 0);
}
