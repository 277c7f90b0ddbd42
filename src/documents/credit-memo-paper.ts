import type { InvoicePaperDocument } from './invoice-paper.ts';
import type { PaperCompany, PaperLanguage } from './paper-parts.ts';

/** A credit memo as plain data: what is given back of an invoice, and why. */
export interface CreditMemoPaper {
  kind: 'credit_memo';
  language: PaperLanguage;
  company: PaperCompany;
  memoNumber: string;
  invoiceNumber: string;
  ticketNumber: string;
  /** The instant of issue, RFC 3339. */
  issuedAt: string;
  issuedText: string;
  payer: { name: string };
  reason: string;
  documents: readonly InvoicePaperDocument[];
  taxCents: number;
  totalCents: number;
  cautions?: readonly string[] | undefined;
  /** SHA-256 of the memo's content, in hexadecimal. */
  contentHash?: string | undefined;
}
