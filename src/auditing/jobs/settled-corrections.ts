import type { Correction, RuleAnswer } from '../rules/audit-rule.ts';
import { correctDocuments } from './correct-documents.ts';
import type { JobFacts } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';

/**
 * What was put right before, and what holds of charges of which nothing is left. By itself it gives
 * nothing back. But labor may stand only in place of the fee that was credited against it: where that
 * fee turns out not to be owed, that labor goes back too.
 */
export function settledCorrections(
  job: JobFacts,
  answers: readonly RuleAnswer[],
  prices: JobPrices,
): Correction[] {
  const holding = answers.flatMap((answer) =>
    answer.outcome === 'cannot_judge' ? [] : (answer.settled ?? []),
  );
  const givenBack = answers.flatMap((answer) => {
    if (answer.outcome !== 'flagged') return [];
    const { corrections } = answer;
    if (!corrections.some((each) => wasGivenBack(job, each))) return [];
    const back = correctDocuments(job.documents, [...corrections, ...holding], prices);
    return back.length === 0 ? corrections : [];
  });
  return [...holding, ...givenBack];
}

/** Of this charge something was given back before. */
export function wasGivenBack(
  { documents }: JobFacts,
  { invoiceId, position, key }: Correction,
): boolean {
  return documents.some(
    (document) =>
      document.invoiceId === invoiceId &&
      document.position === position &&
      document.credited.some((credit) => credit.key === key && credit.amountCents > 0),
  );
}
