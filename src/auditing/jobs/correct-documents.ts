import { type Credit, creditOn } from '../../billing/index.ts';
import { addCents, type Cents, cents } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { chargesOf } from './charges-of.ts';
import type { JobDocument } from './job-facts.ts';

/** What would be given back of one document. */
export interface CorrectedDocument {
  readonly invoiceId: string;
  readonly position: number;
  /** Charge by charge, in the order of the document. */
  readonly credits: readonly Credit[];
  /** The tax that goes with them, or that was too much by itself. */
  readonly taxCents: Cents;
  readonly totalCents: Cents;
}

/**
 * What corrections take off the documents of a job. Of several corrections of one charge the lowest
 * counts, so that two rules that speak about one charge never give it back twice; one that is above
 * what is left of the charge takes nothing off. Where a tax was wrong by itself and lines are lowered
 * too, the larger of both is given back; the rest shows when the job is judged again.
 * @throws Error for a correction of a charge that no document has
 */
export function correctDocuments(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
): CorrectedDocument[] {
  refuseStrangers(documents, corrections);
  return documents.flatMap((document) => {
    const own = corrections.filter((each) => isOf(each, document));
    const corrected = own.length === 0 ? undefined : correctDocument(document, own);
    return corrected === undefined || corrected.totalCents === 0 ? [] : [corrected];
  });
}

function correctDocument(
  document: JobDocument,
  corrections: readonly Correction[],
): CorrectedDocument {
  const { invoiceId, position, taxLeftCents } = document;
  const credits = chargesOf(document).flatMap(({ line, leftCents }): Credit[] => {
    const amountCents = leftCents - lowest(corrections, line.key, leftCents);
    return amountCents > 0 ? [{ key: line.key, amountCents: cents(amountCents) }] : [];
  });
  const byItself = taxLeftCents - lowest(corrections, 'tax', taxLeftCents);
  const taxCents = cents(Math.max(taxWith(document, credits), byItself, 0));
  const totalCents = addCents([...credits.map(({ amountCents }) => amountCents), taxCents]);
  return { invoiceId, position, credits, taxCents, totalCents };
}

function lowest(corrections: readonly Correction[], key: string, leftCents: number): number {
  const to = corrections.filter((each) => each.key === key).map(({ toCents }) => toCents);
  return Math.min(leftCents, ...to);
}

/** The tax that goes with credits, by the document's own rule. */
function taxWith({ lines, taxing, credited }: JobDocument, credits: readonly Credit[]): Cents {
  if (taxing === undefined || credits.length === 0) return cents(0);
  const answer = creditOn({ lines, ...taxing }, credited, credits);
  if (answer.outcome === 'refused') throw new Error('a correction is at most what is left');
  return answer.taxCents;
}

function refuseStrangers(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
): void {
  for (const correction of corrections) {
    const document = documents.find((each) => isOf(correction, each));
    const isKnown =
      correction.key === 'tax'
        ? document !== undefined
        : document?.lines.some(({ key }) => key === correction.key);
    if (!isKnown) throw new Error(`no document of the job charges ${correction.key}`);
  }
}

function isOf({ invoiceId, position }: Correction, document: JobDocument): boolean {
  return invoiceId === document.invoiceId && position === document.position;
}
