import type { Correction } from '../rules/audit-rule.ts';
import { correctDocuments } from './correct-documents.ts';
import type { JobDocument } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';

/** Documents with their charges as they stand once corrections are given back. */
export function documentsAfter(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
  prices?: JobPrices,
): readonly JobDocument[] {
  const corrected = correctDocuments(documents, corrections, prices);
  return documents.map((document) => {
    const { invoiceId, position, credited } = document;
    const own = corrected.filter(
      (each) => each.invoiceId === invoiceId && each.position === position,
    );
    // One that stays as it is keeps what it was priced at.
    if (own.length === 0) return document;
    return { ...document, credited: [...credited, ...own.flatMap(({ credits }) => credits)] };
  });
}
