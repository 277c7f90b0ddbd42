import type { ChargedLine } from '../../billing/index.ts';
import { type Cents, cents } from '../../pricing/index.ts';
import type { JobDocument } from './job-facts.ts';

/**
 * What is left of a charge as a price: the credit of the visit fee is no lower fee, and a credit that
 * was cut because work was left undone no higher one.
 */
export function leftBeforeFeeCredit(
  { lines, credited }: JobDocument,
  { line, leftCents }: ChargedLine,
): Cents {
  let priceCents: number = leftCents;
  for (const { kind, aimedAt, amountCents } of lines) {
    if (kind === 'credit' && aimedAt === line.key) priceCents -= amountCents;
  }
  for (const { key, amountCents } of credited) {
    if (key === line.key && amountCents < 0) priceCents += amountCents;
  }
  return cents(priceCents);
}
