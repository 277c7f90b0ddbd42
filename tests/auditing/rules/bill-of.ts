import type { BillFacts, JobFacts } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';

/** A bill of another time or company: its charges by kind, in cents, and what else it says. */
export function billOf(
  charges: Readonly<Record<string, number>>,
  bill: Partial<BillFacts> = {},
  taxCents = 0,
): JobFacts {
  const lines = Object.entries({ ...charges, ...(taxCents > 0 && { tax: taxCents }) });
  return {
    ended: 'billed',
    documents: [
      {
        invoiceId: 'bill-1',
        position: 1,
        kind: 'bill',
        title: 'bill of May 4',
        quoteId: null,
        lines: lines.map(([kind, amountCents]) => ({
          key: kind,
          kind,
          priceClass: kind,
          description: kind,
          aimedAt: null,
          findingIds: [],
          amountCents: cents(amountCents),
        })),
        credited: [],
        taxLeftCents: cents(taxCents),
      },
    ],
    bill: { parts: [], ...bill },
  };
}
