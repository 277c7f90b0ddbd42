import type { CorrectedDocument, JobFacts } from '../../src/auditing/index.ts';
import type { Credit } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';

/** The job once credit memos have given back what is corrected. */
export function putRight(job: JobFacts, corrected: readonly CorrectedDocument[]): JobFacts {
  return {
    ...job,
    documents: job.documents.map((document) => {
      const own = corrected.find(
        ({ invoiceId, position }) =>
          invoiceId === document.invoiceId && position === document.position,
      );
      if (own === undefined) return document;
      return {
        ...document,
        credited: merged([...document.credited, ...own.credits]),
        taxLeftCents: cents(document.taxLeftCents - own.taxCents),
      };
    }),
  };
}

function merged(credits: readonly Credit[]): Credit[] {
  const sums = new Map<string, number>();
  for (const { key, amountCents } of credits) sums.set(key, (sums.get(key) ?? 0) + amountCents);
  return [...sums].map(([key, amount]) => ({ key, amountCents: cents(amount) }));
}
