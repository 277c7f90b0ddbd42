import type { JobFacts } from '../../src/auditing/index.ts';
import { chargedLines, creditOn } from '../../src/billing/index.ts';
import { addCents, cents } from '../../src/pricing/index.ts';
import { putRight } from './put-right.ts';

/**
 * The job after the owner gave back a share of what is left of one of its charges, at least a cent,
 * by a memo with the tax that goes with it by the bill's own rule. As it was where nothing is left.
 */
export function withGoodwill(job: JobFacts, at: number, share: number): JobFacts {
  const charges = job.documents.flatMap((document) =>
    chargedLines(document.lines, document.credited)
      .filter(({ leftCents }) => leftCents > 0)
      .map((charge) => ({ ...charge, document })),
  );
  const chosen = charges[at % Math.max(1, charges.length)];
  if (chosen === undefined) return job;
  const { document, line, leftCents } = chosen;
  const { invoiceId, position, lines, taxing, credited, taxLeftCents } = document;
  if (taxing === undefined) return job;
  const amountCents = cents(Math.max(1, Math.round(leftCents * share)));
  const credits = [{ key: line.key, amountCents }];
  const answer = creditOn({ lines, ...taxing }, credited, credits);
  if (answer.outcome === 'refused') return job;
  const taxCents = cents(Math.min(answer.taxCents, taxLeftCents));
  const totalCents = addCents([amountCents, taxCents]);
  return putRight(job, [{ invoiceId, position, credits, taxCents, totalCents }]);
}
