import type { PaperLanguage } from './paper-parts.ts';
import { type PaperWords, paperWords } from './paper-words.ts';
import { spanishQuoteWords } from './spanish-quote-words.ts';

/** Every word a quote says of its own accord. */
export interface QuoteWords extends PaperWords {
  quote: string;
  /** The title of a change order, by the number of what it changes. */
  changeTo: (quoteNumber: string) => string;
  title: (quoteNumber: string, revision: number) => string;
  fileTitle: (quoteNumber: string, revision: number, company: string) => string;
  validUntil: (dateText: string) => string;
  options: Record<'one' | 'several', string>;
  declineHeading: string;
  declineText: (total: string) => string;
  /** Of a visit that has no fee. */
  declineFreeText: string;
  keepPaper: string;
  declineGlance: string;
  nothingAddedGlance: string;
  answer: string;
  answerText: (quoteNumber: string, revision: number) => string;
  acceptLine: (letter: string | undefined, title: string, total: string) => string;
  declineLine: (total: string) => string;
  declineFreeLine: string;
  nothingAddedLine: string;
  totalsAgain: Record<'option' | 'parts' | 'total', string>;
  name: string;
  signature: string;
  date: string;
}

export const quoteWords: Record<PaperLanguage, QuoteWords> = {
  en: {
    ...paperWords.en,
    quote: 'Repair quote',
    title: (quoteNumber, revision) => `Quote ${quoteNumber}, revision ${revision}`,
    changeTo: (quoteNumber) => `Change to quote ${quoteNumber}`,
    fileTitle: (quoteNumber, revision, company) =>
      `Repair quote ${quoteNumber}, revision ${revision}, from ${company}`,
    validUntil: (dateText) => `Valid until ${dateText}`,
    options: { one: 'What it costs', several: 'Your options and what they cost' },
    declineHeading: 'If you say no',
    declineText: (total) => `You pay ${total} for the visit and nothing else.`,
    declineFreeText: 'You pay nothing.',
    keepPaper: 'This paper is yours to keep.',
    declineGlance: 'No, not now: the visit only',
    nothingAddedGlance: 'No, not now: nothing is added',
    answer: 'Your answer',
    answerText: (quoteNumber, revision) =>
      `Please check one box and sign. Your answer is to quote ${quoteNumber}, revision ${revision}, as printed here.`,
    acceptLine: (letter, title, total) =>
      `Yes${letter === undefined ? '' : `, option ${letter}`}: ${title}, for ${total} in total`,
    declineLine: (total) => `No, not now. I pay ${total} for the visit`,
    declineFreeLine: 'No, not now. I pay nothing',
    nothingAddedLine: 'No, not now. Nothing is added',
    totalsAgain: { option: 'The totals again', parts: 'Before tax + tax', total: 'Total' },
    name: 'Name in print',
    signature: 'Signature',
    date: 'Date',
  },
  es: spanishQuoteWords,
};
