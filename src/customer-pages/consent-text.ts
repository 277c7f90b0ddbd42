import { formatCents } from '../documents/index.ts';
import type { Language } from '../page-frame/index.ts';
import { paperIn, type QuoteAt } from './quote-at.ts';
import { type Agreed, words } from './words.ts';

/**
 * The words a customer agrees to, for one option. What the page shows and what is stored are this
 * one text.
 * @param at the option's place on the paper, from nothing
 */
export function consentText(quote: QuoteAt, at: number, language: Language): string {
  return words[language].consent(agreedOn(quote, at, language));
}

/** The words by which a yes to the option is taken back. */
export function cancelText(quote: QuoteAt, at: number, language: Language): string {
  return words[language].cancel.notice(agreedOn(quote, at, language));
}

/** What an option is called: with its letter only where there are several. */
export function optionName(quote: QuoteAt, at: number, language: Language): string {
  const option = paperIn(quote, language).options[at];
  if (option === undefined) throw new Error('the paper has every option of its revision');
  const letter = quote.options.length > 1 ? option.letter : undefined;
  return words[language].optionName(letter, option.title);
}

function agreedOn(quote: QuoteAt, at: number, language: Language): Agreed {
  return {
    option: optionName(quote, at, language),
    total: formatCents(quote.options[at]?.totalCents ?? 0),
    quote: words[language].quoteName(String(quote.number), quote.revision),
    company: paperIn(quote, language).company.name,
  };
}
