import { addCents, type Cents } from '../pricing/index.ts';
import { type Credit, chargedLines } from './charged-lines.ts';
import { type TaxedDocument, taxOfTheRest } from './tax-of-the-rest.ts';

/** What a document comes to after credits, with its tax. */
export function leftOf(document: TaxedDocument, credited: readonly Credit[]): Cents {
  const charged = chargedLines(document.lines, credited);
  return addCents([...charged.map(({ leftCents }) => leftCents), taxOfTheRest(document, credited)]);
}
