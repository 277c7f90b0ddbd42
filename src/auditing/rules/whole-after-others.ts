import { correctDocuments } from '../jobs/correct-documents.ts';
import type { JobDocument, JobFacts } from '../jobs/job-facts.ts';
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
  const wholes = afterwards(job.documents, others)
    .filter(({ kind }) => kind === 'bill')
    .flatMap((document) => overFairPrice(document, fair));
  return [...others, ...wholes.map(({ correction }) => correction)];
}

/** Documents as they stand once corrections are given back. */
function afterwards(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
): JobDocument[] {
  const corrected = correctDocuments(documents, corrections);
  return documents.map((document) => {
    const { invoiceId, position, credited } = document;
    const own = corrected.filter(
      (each) => each.invoiceId === invoiceId && each.position === position,
    );
    return { ...document, credited: [...credited, ...own.flatMap(({ credits }) => credits)] };
  });
}
