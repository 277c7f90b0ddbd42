import { addCents } from '../pricing/index.ts';
import type { BilledDocument, BilledLine } from './billed-document.ts';

/** Lines as a document, whose tax and total are their sums and nothing else. */
export function documentOf(
  kind: BilledDocument['kind'],
  lines: readonly BilledLine[],
): BilledDocument {
  const taxes = lines.filter((line) => line.kind === 'tax');
  return {
    kind,
    lines,
    taxCents: addCents(taxes.map(({ amountCents }) => amountCents)),
    totalCents: addCents(lines.map(({ amountCents }) => amountCents)),
  };
}
