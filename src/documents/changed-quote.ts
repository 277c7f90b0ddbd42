import { formatCents } from './format-cents.ts';
import type { PaperChanged } from './paper-parts.ts';
import type { ChangedQuote } from './paper-words.ts';

/** What a change order adds to, as it is printed. */
export function changedQuote({ quoteNumber, agreedCents, hasGrown }: PaperChanged): ChangedQuote {
  return { number: quoteNumber, agreed: formatCents(agreedCents), hasGrown };
}
