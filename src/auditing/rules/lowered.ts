import type { Cents } from '../../pricing/index.ts';
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
