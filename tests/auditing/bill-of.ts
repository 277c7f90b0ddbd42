import type { FairPrice, JobFacts } from '../../src/auditing/index.ts';
import type { BilledLine } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import type { HandWork } from '../pricing/oracle/hand-inputs.ts';
import { inputsOf, type JobWishes, optionOf } from './job-of.ts';

/** What a bill of another time or company says, class by class; `lump` is what it does not split. */
export type BillAmounts = Partial<Record<'visit_fee' | 'labor' | 'part' | 'lump' | 'tax', number>>;

/** An imported bill, with what our price book comes to for what it says was done. */
export function billOf(
  amounts: BillAmounts,
  { fair, taxCents = 0 }: { fair?: FairPrice; taxCents?: number } = {},
): JobFacts {
  return {
    ended: 'billed',
    documents: [
      {
        invoiceId: 'bill-1',
        position: 1,
        kind: 'bill',
        title: 'the bill of May 4',
        quoteId: null,
        lines: Object.entries(amounts).map(([priceClass, amount]) => billLine(priceClass, amount)),
        credited: [],
        taxLeftCents: cents(taxCents),
      },
    ],
    bill: { parts: [], ...(fair && { fair }) },
  };
}

/** Our price for work, as it stands beside a bill. */
export function fairFor(work: readonly HandWork[], wishes: JobWishes = {}): FairPrice {
  const inputs = inputsOf(work, wishes);
  return {
    option: optionOf(inputs),
    price: { inputs, rulesetVersion: 'pricing-1', optionAt: 0 },
    taskCodes: work.map(({ taskCode }) => taskCode),
  };
}

function billLine(priceClass: string, amountCents: number): BilledLine {
  return {
    key: priceClass,
    kind: priceClass,
    priceClass,
    description: priceClass,
    aimedAt: null,
    findingIds: [],
    amountCents: cents(amountCents),
  };
}
