import { addCents, type Cents, cents, largestAtMost, visitFeeCreditKey } from '../pricing/index.ts';
import { type Credit, chargedLines } from './charged-lines.ts';
import { leftOf } from './left-of.ts';
import type { TaxedDocument } from './tax-of-the-rest.ts';

/** What of a visit's work is billed. */
export interface BilledWork {
  /** Labor and access after what was taken off. */
  readonly timeCents: Cents;
  /** With the fee, its credit and tax. */
  readonly totalCents: Cents;
}

/**
 * A document whose credit of the visit fee is cut to what a credit may be: at most the labor and
 * access that the visit is billed, after what is taken off, and no more than leaves the whole at
 * what declining comes to. So what was not done never makes repairing cheaper than declining; where
 * the credit ends up at nothing and the owner took something off the fee itself, that stands. Where
 * the fee is taxed and labor is not, a smaller credit can raise the tax by more than the labor came
 * to; the credit stays large enough that the document is never above what was accepted.
 * @param beside what the change orders of the visit are billed
 */
export function limitFeeCredit(
  document: TaxedDocument,
  takenOff: readonly Credit[],
  beside: BilledWork,
  declineTotalCents: number,
): TaxedDocument {
  const given = document.lines.find(({ key }) => key === visitFeeCreditKey);
  if (given === undefined) return document;
  const givenCents = cents(-given.amountCents);
  const withCredit = (creditCents: number): TaxedDocument => ({
    ...document,
    lines: document.lines.map((line) =>
      line === given ? { ...line, amountCents: cents(-creditCents) } : line,
    ),
  });
  const total = (creditCents: number) => leftOf(withCredit(creditCents), takenOff);
  const timeCents = timeOf(document, takenOff) + beside.timeCents;
  const acceptedCents = leftOf(document, []);
  const dueCents = largestAtMost(
    cents(Math.min(givenCents, timeCents)),
    (creditCents) => total(creditCents) + beside.totalCents >= declineTotalCents,
  );
  if (total(dueCents) <= acceptedCents) return withCredit(dueCents);
  return withCredit(
    largestAtMost(givenCents, (creditCents) => total(creditCents) > acceptedCents) + 1,
  );
}

/** Labor and access of a document after what is taken off. */
export function timeOf({ lines }: TaxedDocument, takenOff: readonly Credit[]): Cents {
  const charged = chargedLines(lines, takenOff).filter(({ line }) =>
    ['labor', 'access'].includes(line.priceClass),
  );
  return addCents(charged.map(({ leftCents }) => leftCents));
}
