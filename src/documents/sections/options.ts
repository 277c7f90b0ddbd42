import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import type { QuotePaper } from '../quote-paper.ts';
import type { QuoteWords } from '../quote-words.ts';
import { addHeading, addParagraph, keepTogether, type Sheet } from '../sheet.ts';
import { addPrices } from './prices.ts';

/** What each option holds and costs, line by line, down to its total. */
export function addOptions(
  sheet: Sheet<QuoteWords>,
  root: Tag,
  { options, changes }: QuotePaper,
): void {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  const several = options.length > 1;
  addHeading(sheet, section, several ? words.options.several : words.options.one);
  options.forEach((option, index) => {
    const firstRow = sheet.rows.length;
    const part = tagUnder(section, 'Sect');
    const title = several ? words.option(option.letter, option.title) : option.title;
    addParagraph(sheet, part, title, TYPE.subheading, {
      type: 'H3',
      spaceAbovePt: index === 0 ? 0 : 20,
      keepWithNext: true,
    });
    addParagraph(sheet, part, option.explanation ?? '', TYPE.body, {
      spaceAbovePt: 2,
      keepWithNext: true,
    });
    addPrices(sheet, part, option, changes);
    keepTogether(sheet, firstRow, OPTION_HEIGHT_MAX_PT);
  });
}

/** An option up to this height stands whole on one page, so that its lines and total are one look. */
const OPTION_HEIGHT_MAX_PT = 520;
