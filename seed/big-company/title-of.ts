import { documentTitle } from '../../src/invoices/index.ts';
import type { JobBill } from './bill-of-job.ts';

/** What a document is called on papers. */
export function titleOf({ kind, of }: JobBill, timeZone: string): string {
  if ('visitId' in of) {
    return documentTitle.en({ kind: 'visit_fee', arrivedAt: of.arrivedAt }, timeZone);
  }
  const { quoteNumber } = of;
  const ofQuote = kind === 'work_not_done' ? kind : 'accepted';
  return documentTitle.en({ kind: ofQuote, quoteNumber }, timeZone);
}
