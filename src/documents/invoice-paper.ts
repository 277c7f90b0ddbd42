import type { PaperAmount, PaperCompany, PaperLanguage, PaperSite } from './paper-parts.ts';

/**
 * The invoice as plain data, with everything already decided: whoever prints it decides nothing.
 * Money is whole cents; days and instants arrive as the texts a reader shall see.
 */
export interface InvoicePaper {
  kind: 'invoice';
  language: PaperLanguage;
  company: PaperCompany;
  invoiceNumber: string;
  ticketNumber: string;
  /** The instant of issue, RFC 3339. */
  issuedAt: string;
  issuedText: string;
  dueText: string;
  payer: { name: string };
  site: PaperSite;
  /** The days somebody was there, as the reader shall see them. */
  visitDays: readonly string[];
  documents: readonly InvoicePaperDocument[];
  taxCents: number;
  totalCents: number;
  cautions?: readonly string[] | undefined;
  /** SHA-256 of the invoice's content, in hexadecimal. */
  contentHash?: string | undefined;
}

export interface InvoicePaperDocument {
  position: number;
  title: string;
  prices: InvoicePaperPrices;
  /** The tax as it was agreed to; none where the job has one price for everything. */
  taxes: readonly PaperAmount[];
  totalCents: number;
}

/** As the quote stated them: what was one price for everything stays one on the invoice. */
export type InvoicePaperPrices =
  | { kind: 'separated'; lines: readonly { description: string; amountCents: number }[] }
  | { kind: 'lump_sum'; lines: readonly { description: string }[]; priceCents: number };
