import type {
  PaperAnswerWay,
  PaperChanged,
  PaperCompany,
  PaperCustomer,
  PaperDecline,
  PaperFinding,
  PaperLanguage,
  PaperSite,
  PaperSystem,
} from './paper-parts.ts';

/** The written no as plain data: what was found and offered, and how the system was left. */
export interface DeclinePaper {
  language: PaperLanguage;
  company: PaperCompany;
  quoteNumber: string;
  revision: number;
  /** The instant of the no, RFC 3339. It dates the file itself. */
  issuedAt: string;
  /** The same with its time zone, as the reader shall see it. */
  declinedText: string;
  customer: PaperCustomer;
  site: PaperSite;
  systems: readonly PaperSystem[];
  findings: readonly PaperFinding[];
  /** What was offered and not taken. */
  offered: readonly PaperOffer[];
  declinedByName: string;
  given: PaperAnswerWay;
  reason?: string | undefined;
  /** Not known to somebody who says no from afar. */
  conditionLeft?: string | undefined;
  dangerWarned?: string | undefined;
  /** What is owed all the same. */
  decline: PaperDecline;
  /** Of a change order: the accepted quote that stands as it was. */
  changes?: PaperChanged | undefined;
  cautions: readonly string[];
  /** SHA-256 of the quote's content, in hexadecimal: what the no was said to. */
  contentHash: string;
}

export interface PaperOffer {
  letter: string;
  title: string;
  totalCents: number;
}
