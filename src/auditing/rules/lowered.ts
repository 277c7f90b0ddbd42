import { type Cents, cents, visitFeeKey } from '../../pricing/index.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import type { Correction } from './audit-rule.ts';

/** A charge that would have come to less, with the sentence that says why. */
export interface Lowered {
  readonly sentence: string;
  readonly correction: Correction;
}

/**
 * The charge of a document, down to what it would have come to.
 * @param because what that rests on besides the charge itself
 */
export function lowered(
  { invoiceId, position }: JobDocument,
  key: string,
  toCents: Cents,
  sentence: string,
  because: readonly string[] = [],
): Lowered {
  return { sentence, correction: { invoiceId, position, key, toCents, ...restingOn(because) } };
}

/** A visit fee that was not owed at all. */
export function feeNotOwed(
  { invoiceId, position }: JobDocument,
  because: readonly string[] = [],
): Correction {
  const correction = { invoiceId, position, key: visitFeeKey, toCents: cents(0) };
  return { ...correction, notOwed: true, ...restingOn(because) };
}

/** Findings as what a correction rests on. */
export function ofFindings(ids: readonly string[]): string[] {
  return ids.map((id) => `finding ${id}`);
}

function restingOn(because: readonly string[]): Pick<Correction, 'because'> {
  return because.length === 0 ? {} : { because: [...new Set(because)].sort() };
}
