import type { Job } from './job.ts';
import type { Pen } from './pen.ts';

/** Writes that there is a paper, of whatever it is of. */
export function addPaper(
  pen: Pen,
  { ticketId }: Job,
  issuedAt: Date,
  of: { kind: string; number: string; invoiceId?: string; closingId?: string; memoId?: string },
): void {
  pen.add('paper', {
    ...{ id: pen.makeId(issuedAt), kind: of.kind, number: of.number, ticketId, issuedAt },
    ...{ revisionId: null, acceptanceOf: null, declineOf: null },
    invoiceId: of.invoiceId ?? null,
    memoId: of.memoId ?? null,
    closingId: of.closingId ?? null,
    ...{ timeZone: null, recordedByName: null },
  });
}
