import type { PaperLanguage } from '../documents/index.ts';
import { dollarsText, type Stated } from '../pricing/index.ts';
import type { CreditedLine } from './credit-documents.ts';

/**
 * What a line of a memo is called on paper. Where some of it stays charged, that is said with it: a part
 * of a charge, or a tax alone, is understood by what it comes to now and came to before. Where a job was
 * one price for everything, only its tax has amounts of its own.
 * @param name of the charge, in that language
 */
export function creditedName(
  name: string,
  { kind, amountCents, leftCents }: CreditedLine,
  { stated, language }: { stated: Stated; language: PaperLanguage },
): string {
  const isPriced = kind === 'tax' || stated === 'separated';
  if (!isPriced || amountCents === leftCents) return name;
  const now = dollarsText(leftCents - amountCents);
  return `${name} (${INSTEAD_OF[language](now, dollarsText(leftCents))})`;
}

const INSTEAD_OF: Record<PaperLanguage, (now: string, before: string) => string> = {
  en: (now, before) => `now ${now} instead of ${before}`,
  es: (now, before) => `ahora ${now} en lugar de ${before}`,
};
