import {
  addCents,
  type Cents,
  roundTaxes,
  type Stated,
  type TaxRule,
  taxClassOfKey,
  type WorkItem,
} from '../pricing/index.ts';
import type { BilledLine } from './billed-document.ts';
import { type Credit, chargedLines } from './charged-lines.ts';

/** A billed document as far as its tax depends on it. */
export interface TaxedDocument {
  readonly lines: readonly BilledLine[];
  readonly tax: TaxRule;
  /** As the paper stated it; a credit never makes a lump sum of a separated price or the reverse. */
  readonly stated: Stated;
  /** What its option was priced from, which knows the tax class of goods; none for a fee. */
  readonly work: readonly WorkItem[];
}

/** The tax on what is left of a document after credits, by the document's own rule. */
export function taxOfTheRest(document: TaxedDocument, credited: readonly Credit[]): Cents {
  const { lines, tax, stated, work } = document;
  const amounts = chargedLines(lines, credited).map(({ line, leftCents }) => ({
    on: line.description,
    taxClass: taxClassOfKey(line, work),
    netCents: leftCents,
  }));
  return addCents(roundTaxes(amounts, tax, stated).map(({ taxCents }) => taxCents));
}
