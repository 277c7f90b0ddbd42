import { type Cents, cents, visitFeeKey } from '../../pricing/index.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import type { Correction } from './audit-rule.ts';

/** A charge that would have come to less, with the sentence that says why. */
export interface Lowered {
  readonly sentence: string;
  readonly correction: Correction;
}

/** The charge of a document, down to what it would have come to. */
export function lowered(
  { invoiceId, position }: JobDocument,
  key: string,
  toCents: Cents,
  sentence: string,
): Lowered {
  return { sentence, correction: { invoiceId, position, key, toCents } };
}

/** A visit fee that was not owed at all. */
export function feeNotOwed({ invoiceId, position }: JobDocument): Correction {
  return { invoiceId, position, key: visitFeeKey, toCents: cents(0), notOwed: true };
}
