import type {
  PaperChanged,
  PaperCompany,
  PaperCustomer,
  PaperDecline,
  PaperFinding,
  PaperLanguage,
  PaperLegalText,
  PaperOption,
  PaperSite,
  PaperSystem,
} from './paper-parts.ts';

/**
 * The quote as plain data, with everything already decided: the document room prints it and decides
 * nothing. Money is whole cents, instants and dates arrive as the texts a reader shall see, and a
 * number appears as a number only where a gauge is drawn to its scale.
 */
export interface QuotePaper {
  language: PaperLanguage;
  company: PaperCompany;
  quoteNumber: string;
  revision: number;
  /** The instant of issue, RFC 3339. It dates the file itself, so that one paper has one set of bytes. */
  issuedAt: string;
  /** The day of issue in the company's own zone, as the reader shall see it. */
  issuedText: string;
  /** The end of validity (the company's local midnight), as the reader shall see it. */
  validUntilText: string;
  /** SHA-256 of the quote's content, in hexadecimal. */
  contentHash: string;
  /** One or two plain sentences that a person reads first: what is wrong and what would mend it. */
  summary: string;
  customer: PaperCustomer;
  site: PaperSite;
  systems: readonly PaperSystem[];
  findings: readonly PaperFinding[];
  /** One to three, in the order they are offered. */
  options: readonly PaperOption[];
  decline: PaperDecline;
  /** Of a change order: the accepted quote that it adds to. */
  changes?: PaperChanged | undefined;
  cautions: readonly string[];
  legalTexts: readonly PaperLegalText[];
}
