import { addCents, type Cents } from '../pricing/index.ts';
import type { BilledDocument } from './billed-document.ts';

/**
 * What an invoice comes to: the sum of its documents, each with its own tax unchanged.
 * @throws Error below zero, which no documents of one closing can come to
 */
export function invoiceTotal(
  documents: readonly Pick<BilledDocument, 'taxCents' | 'totalCents'>[],
): { taxCents: Cents; totalCents: Cents } {
  const taxCents = addCents(documents.map((document) => document.taxCents));
  const totalCents = addCents(documents.map((document) => document.totalCents));
  if (totalCents < 0) throw new Error('an invoice never comes to less than nothing');
  return { taxCents, totalCents };
}
