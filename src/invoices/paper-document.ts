import type { InvoicePaperDocument } from '../documents/index.ts';
import type { Stated } from '../pricing/index.ts';
import { sumOf } from './money-of.ts';

interface PaperedLine {
  readonly key: string;
  readonly kind: string;
  readonly description: string;
  readonly amountCents: number;
}

/**
 * One document as its paper states it. Where a job was one price for everything, the amounts of its
 * lines are not even part of the paper's data, and lines that only lower others are not named.
 * @param nameOf what each line is called; as it was sold unless given
 */
export function paperDocument(
  document: {
    readonly position: number;
    readonly title: string;
    readonly stated: Stated;
    readonly lines: readonly PaperedLine[];
    readonly totalCents: number;
  },
  nameOf: (line: PaperedLine) => string = ({ description }) => description,
): InvoicePaperDocument {
  const { position, title, stated, totalCents } = document;
  const told = document.lines.map((line) => ({ ...line, description: nameOf(line) }));
  const taxed = told.filter(({ kind }) => kind === 'tax');
  const lines = told.filter(({ kind }) => kind !== 'tax');
  const taxes = taxed
    .filter(({ amountCents }) => amountCents !== 0)
    .map(({ description, amountCents }) => ({ label: description, amountCents }));
  const taxCents = sumOf(taxes.map(({ amountCents }) => amountCents));
  const prices =
    stated === 'separated'
      ? ({ kind: stated, lines: lines.map(pricedLine) } as const)
      : ({
          kind: stated,
          lines: lines.filter(isCharge).map(({ description }) => ({ description })),
          priceCents: totalCents - taxCents,
        } as const);
  return { position, title, prices, taxes, totalCents };
}

function pricedLine({ description, amountCents }: PaperedLine) {
  return { description, amountCents };
}

function isCharge({ kind }: PaperedLine): boolean {
  return !['discount', 'adjustment', 'credit'].includes(kind);
}
