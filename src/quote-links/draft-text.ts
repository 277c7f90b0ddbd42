import type { PaperLanguage } from '../documents/index.ts';
import { oneLine } from '../platform/one-line.ts';
import { gsmLength, inGsmLetters } from './gsm-letters.ts';

/** What a short text about a quote is drafted from. */
export interface TextFacts {
  language: PaperLanguage;
  companyName: string;
  quoteNumber: string;
  /** The address at which it is read and answered. */
  url: string;
}

/** One message, where names and the address leave room for it. */
const PLACES_MAX = 160;

/**
 * A short text to send by any messenger: who writes, about what, and where to look. The company's
 * name gives way first; the number and the address always stand whole.
 */
export function draftText({ language, companyName, quoteNumber, url }: TextFacts): string {
  const name = inGsmLetters(oneLine(companyName));
  const said = (shown: string) => TEXTS[language](shown, quoteNumber, url);
  const letters = [...name];
  for (let length = letters.length; length >= NAME_MIN; length -= 1) {
    const shown = length === letters.length ? name : `${letters.slice(0, length).join('').trim()}.`;
    const text = said(shown);
    if ((gsmLength(text) ?? text.length) <= PLACES_MAX) return text;
  }
  return said(name);
}

/** A name cut shorter than this names nobody; then the text rather takes a second message. */
const NAME_MIN = 8;

const TEXTS: Record<PaperLanguage, (company: string, quote: string, url: string) => string> = {
  en: (company, quote, url) => `${company}: your repair quote ${quote}. Look and answer: ${url}`,
  // Only letters that short messages have: no accent on a, i, o or u.
  es: (company, quote, url) => `${company}: su presupuesto ${quote}. Vea y responda: ${url}`,
};
