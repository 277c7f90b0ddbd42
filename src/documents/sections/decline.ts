import { changedQuote } from '../changed-quote.ts';
import { formatCents } from '../format-cents.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import type { QuotePaper } from '../quote-paper.ts';
import type { QuoteWords } from '../quote-words.ts';
import { addHeading, addParagraph, type Sheet } from '../sheet.ts';

/** What saying no costs, in full. */
export function addDecline(
  sheet: Sheet<QuoteWords>,
  root: Tag,
  { decline, changes }: QuotePaper,
): void {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.declineHeading);
  const total = formatCents(decline.totalCents);
  const several = decline.amounts.length > 1;
  const free = decline.totalCents === 0 ? words.declineFreeText : words.declineText(total);
  const means = changes === undefined ? free : words.nothingAdded(changedQuote(changes));
  addParagraph(sheet, section, `${means} ${words.keepPaper}`, TYPE.strong, {
    keepWithNext: several,
  });
  if (!several) return;
  const parts = decline.amounts.map(({ label, amountCents }) => ({
    label,
    amount: formatCents(amountCents),
  }));
  addParagraph(sheet, section, words.sum(parts, total), TYPE.body, { spaceAbovePt: 2 });
}
