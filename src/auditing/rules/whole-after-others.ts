import { documentsAfter } from '../jobs/documents-after.ts';
import type { JobFacts } from '../jobs/job-facts.ts';
import type { Correction } from './audit-rule.ts';
import { overFairPrice } from './over-fair-price.ts';

/**
 * The corrections of a job with those of a bill as a whole after all others: what these take off counts
 * toward what the whole is too much, so that together they never bring it below its ceiling. What
 * the others take off below it stays, because it is owed by itself.
 */
export function wholeAfterOthers(job: JobFacts, corrections: readonly Correction[]): Correction[] {
  const others = corrections.filter(({ ofWhole }) => ofWhole !== true);
  const fair = job.bill?.fair;
  if (others.length === corrections.length || fair === undefined) return [...corrections];
  const wholes = documentsAfter(job.documents, others)
    .filter(({ kind }) => kind === 'bill')
    .flatMap((document) => overFairPrice(document, fair)?.corrections ?? []);
  return [...others, ...wholes];
}
