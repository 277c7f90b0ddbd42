import type { ChargedLine } from '../../billing/index.ts';
import { chargesOf } from './charges-of.ts';
import type { JobDocument } from './job-facts.ts';

/** Labor and access of a document, against which a yes credits the visit fee. */
export function timeOf(document: JobDocument): ChargedLine[] {
  return chargesOf(document).filter(
    ({ line: { priceClass } }) => priceClass === 'labor' || priceClass === 'access',
  );
}
