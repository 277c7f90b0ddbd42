import type { CreditMemoPaper, Paper, PaperLanguage } from '../documents/index.ts';
import type { InvoiceMoney } from '../invoices/index.ts';

/** What is said about a paper when it is sent: everything a letter is written from. */
export interface Letter {
  paper: Paper;
  /** Whoever gets it, who need not be the customer on the paper. */
  toName: string;
  /** Where a quote that waits is answered; none where this mail answers nothing. */
  link?: { url: string } | undefined;
  /** How a quote stands by now, so that nobody takes one that is over for one that waits. */
  standing?: Standing | undefined;
  /** How the money of an invoice stands by now, so that nobody pays twice. */
  money?: InvoiceMoney | undefined;
  /** Beside a credit memo, the others that are in its mail. */
  others?: readonly CreditMemoPaper[] | undefined;
  /** What was written to go with a credit memo and those others, in the language of its paper. */
  written?: string | undefined;
}

export type Standing =
  | 'waits'
  | 'accepted'
  | 'declined'
  | 'replaced'
  | 'withdrawn'
  | 'expired'
  /** Nobody answered before the job was over. */
  | 'ended'
  /** A change that nobody answered before the yes was taken back that it would add to. */
  | 'parent_cancelled';

export interface LetterText {
  subject: string;
  text: string;
  language: PaperLanguage;
}
