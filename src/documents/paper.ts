import type { AcceptancePaper } from './acceptance-paper.ts';
import type { CreditMemoPaper } from './credit-memo-paper.ts';
import type { DeclinePaper } from './decline-paper.ts';
import type { InvoicePaper } from './invoice-paper.ts';
import type { QuotePaper } from './quote-paper.ts';
import type { WorkRecordPaper } from './work-record-paper.ts';

/** Every kind of paper a customer holds, as plain data. */
export type Paper =
  | { kind: 'quote'; paper: QuotePaper }
  | { kind: 'acceptance'; paper: AcceptancePaper }
  | { kind: 'decline'; paper: DeclinePaper }
  | { kind: 'invoice'; paper: InvoicePaper }
  | { kind: 'credit_memo'; paper: CreditMemoPaper }
  | { kind: 'work_record'; paper: WorkRecordPaper };

export type PaperKind = Paper['kind'];

/** All that one file is made of: the same sheet gives the same bytes. */
export interface PaperSheet {
  paper: Paper;
  /** Where anyone can look up what the paper says, printed as a QR code and in words. */
  pageUrl?: string | undefined;
  attachments: readonly PaperAttachment[];
}

/** A file inside the file. */
export interface PaperAttachment {
  name: string;
  mediaType: string;
  description: string;
  bytes: Uint8Array;
  /** What the paper was made of, or what goes with it (ISO 32000-2, 7.11.3). */
  relationship: 'Data' | 'Supplement';
}
