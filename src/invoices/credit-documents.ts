import { type Credit, chargedLines, creditOn } from '../billing/index.ts';
import { addCents, type Cents, cents, type Stated } from '../pricing/index.ts';
import type { CreditableDocument } from './creditable-documents.ts';

/** What is given back of one document, its tax as a line of its own. */
export interface CreditedDocument {
  readonly position: number;
  readonly stated: Stated;
  readonly lines: readonly CreditedLine[];
  readonly taxCents: number;
  readonly totalCents: number;
}

export interface CreditedLine {
  readonly key: string;
  readonly kind: string;
  readonly priceClass: string;
  readonly description: string;
  readonly amountCents: Cents;
  /** What was charged for it until then: its amount, less what was aimed at it and credited before. */
  readonly leftCents: Cents;
}

export type DocumentCredit =
  | { outcome: 'credited'; document: CreditedDocument }
  | { outcome: 'refused'; refusals: readonly { at: number; message: string }[] };

/**
 * Credits on one document with the tax that goes with them, of which no more is given back than is
 * left.
 * @param taxBackCents where the tax itself is put right: what of it goes back altogether
 */
export function creditDocument(
  document: CreditableDocument,
  credits: readonly Credit[],
  taxBackCents?: Cents,
): DocumentCredit {
  const answer = creditOn(document, document.credited, credits);
  if (answer.outcome === 'refused') return answer;
  const taxCents = cents(Math.min(taxBackCents ?? answer.taxCents, document.taxLeftCents));
  const { position, stated } = document;
  const lines = [
    ...answer.lines.map(({ key, amountCents }) => ({
      ...named(document, key),
      ...{ amountCents, leftCents: leftOf(document, key) },
    })),
    ...(taxCents === 0 ? [] : [{ ...named(document, 'tax'), ...taxBack(document, taxCents) }]),
  ];
  const totalCents = addCents(lines.map(({ amountCents }) => amountCents));
  return { outcome: 'credited', document: { position, stated, lines, taxCents, totalCents } };
}

function leftOf({ lines, credited }: CreditableDocument, key: string): Cents {
  const charge = chargedLines(lines, credited).find(({ line }) => line.key === key);
  if (charge === undefined) throw new Error(`a document has no charge ${key}`);
  return charge.leftCents;
}

function taxBack({ taxLeftCents }: CreditableDocument, amountCents: Cents) {
  return { amountCents, leftCents: taxLeftCents };
}

function named({ lines }: CreditableDocument, key: string) {
  const line = lines.find((each) => (key === 'tax' ? each.kind === 'tax' : each.key === key));
  if (line === undefined) throw new Error(`a document has no line ${key}`);
  const { kind, priceClass, description } = line;
  return { key, kind, priceClass, description };
}
