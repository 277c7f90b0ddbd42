import type {
  PaperAnswerWay,
  PaperChanged,
  PaperCompany,
  PaperCustomer,
  PaperLanguage,
  PaperLegalText,
  PaperOption,
  PaperSite,
} from './paper-parts.ts';

/** The written yes as plain data: what was agreed, by whom, when and in which words. */
export interface AcceptancePaper {
  language: PaperLanguage;
  company: PaperCompany;
  quoteNumber: string;
  revision: number;
  /** The instant of the yes, RFC 3339. It dates the file itself. */
  issuedAt: string;
  /** The same with its time zone, as the reader shall see it: 'July 14, 2026, 3:41 PM CDT'. */
  acceptedText: string;
  customer: PaperCustomer;
  site: PaperSite;
  /** As the quote showed it, line by line. */
  option: PaperOption;
  /** Only among several does the option's letter mean anything. */
  optionCount: number;
  /** It sells the visit alone: no work was agreed to. */
  isVisitOnly?: boolean | undefined;
  /** Of a change order: the accepted quote that it adds to. */
  changes?: PaperChanged | undefined;
  acceptedByName: string;
  given: PaperAnswerWay;
  /** Whoever pays and agreed to more than the customer alone may agree to. */
  beyondLimitAgreedBy?: string | undefined;
  /** The words that were agreed to, whole, as they were read. */
  consentText: string;
  /** The last day of a right to cancel, as the reader shall see it. */
  cancelUntilText?: string | undefined;
  /** The rights that the quote told of, the one to cancel among them. */
  legalTexts: readonly PaperLegalText[];
  cautions: readonly string[];
  /** SHA-256 of the quote's content, in hexadecimal: what the yes was said to. */
  contentHash: string;
}
