import { addCents, cents, largestAtMost, visitFeeCreditKey } from '../pricing/index.ts';
import { type Credit, chargedLines } from './charged-lines.ts';
import { leftOf } from './left-of.ts';
import type { TaxedDocument } from './tax-of-the-rest.ts';

/**
 * A document whose credit of the visit fee is cut to what a credit may be: at most the labor and
 * access that are left after what is taken off, and no more than leaves the whole at what declining
 * comes to. So what was not done never makes repairing cheaper than declining. Where the fee is taxed
 * and labor is not, a smaller credit can raise the tax by more than the labor came to; the credit
 * stays large enough that the whole is never above what was accepted.
 */
export function limitFeeCredit(
  document: TaxedDocument,
  takenOff: readonly Credit[],
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
  const acceptedCents = leftOf(document, []);
  const dueCents = largestAtMost(
    cents(Math.min(givenCents, timeLeft(document, takenOff))),
    (creditCents) => total(creditCents) >= declineTotalCents,
  );
  if (total(dueCents) <= acceptedCents) return withCredit(dueCents);
  return withCredit(
    largestAtMost(givenCents, (creditCents) => total(creditCents) > acceptedCents) + 1,
  );
}

function timeLeft({ lines }: TaxedDocument, takenOff: readonly Credit[]): number {
  const isTime = ({ line }: { line: { priceClass: string } }) =>
    line.priceClass === 'labor' || line.priceClass === 'access';
  const charged = chargedLines(lines, takenOff).filter(isTime);
  return addCents(charged.map(({ leftCents }) => leftCents));
}
