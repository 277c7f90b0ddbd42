import { changedQuote, formatCents, quoteWords } from '../documents/index.ts';
import type { Language } from '../page-frame/index.ts';
import { paperIn, type QuoteAt } from './quote-at.ts';
import { words } from './words.ts';

/** What a no leaves and costs: the fee of the visit, or the quote that a change would add to. */
export interface NoMeans {
  /** In a list of answers. */
  name: string;
  /** In a few words, beside it. */
  short: string;
  /** Before it is said. */
  sentence: string;
  /** Once it is on record, where it leaves anything to pay for the visit. */
  owedCents: number | undefined;
}

export function whatANoMeans(quote: QuoteAt, language: Language): NoMeans {
  const own = words[language];
  const owedCents = paperIn(quote, language).decline.totalCents;
  const fee = formatCents(owedCents);
  if (!quote.isChange) {
    const [short, sentence] = [own.noCosts(fee), own.declineText(fee)];
    return { name: own.declineName, short, sentence, owedCents };
  }
  const paper = quoteWords[language];
  const sentence =
    quote.changes === undefined
      ? paper.nothingAddedLine
      : paper.nothingAdded(changedOf(quote.changes));
  return { name: own.declineName, short: own.nothingAdded, sentence, owedCents: undefined };
}

/** 'Together with quote 1010', and what that comes to; undefined for any other quote. */
export function togetherWith(
  { changes }: QuoteAt,
  totalCents: number,
  language: Language,
): { name: string; total: string } | undefined {
  if (changes === undefined) return undefined;
  return {
    name: quoteWords[language].together(changedOf(changes)),
    total: formatCents(changes.agreedCents + totalCents),
  };
}

function changedOf({ number, ...agreed }: NonNullable<QuoteAt['changes']>) {
  return changedQuote({ quoteNumber: String(number), ...agreed });
}
