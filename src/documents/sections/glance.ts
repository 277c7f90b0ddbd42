import { changedQuote } from '../changed-quote.ts';
import { formatCents } from '../format-cents.ts';
import type { Tag } from '../page-plan.ts';
import type { QuotePaper } from '../quote-paper.ts';
import type { QuoteWords } from '../quote-words.ts';
import type { Sheet } from '../sheet.ts';
import { addPanel, type PanelRow } from './panel.ts';

/** What is wrong, what each answer costs with tax, and that no is an answer too. */
export function addGlance(sheet: Sheet<QuoteWords>, root: Tag, paper: QuotePaper): void {
  addPanel(sheet, root, {
    lead: paper.summary,
    caption: sheet.words.withTax,
    rows: answers(sheet, paper),
  });
}

function answers({ words }: Sheet<QuoteWords>, paper: QuotePaper): PanelRow[] {
  const several = paper.options.length > 1;
  const { changes } = paper;
  const yes = paper.options.flatMap(({ letter, title, totalCents }) => [
    {
      label: several ? words.option(letter, title) : title,
      amount: formatCents(totalCents),
      weight: 'strong' as const,
    },
    ...(changes === undefined
      ? []
      : [
          {
            label: words.together(changedQuote(changes)),
            amount: formatCents(changes.agreedCents + totalCents),
            weight: 'quiet' as const,
          },
        ]),
  ]);
  const no = {
    label: changes === undefined ? words.declineGlance : words.nothingAddedGlance,
    amount: formatCents(paper.decline.totalCents),
    weight: 'quiet' as const,
  };
  return [...yes, no];
}
