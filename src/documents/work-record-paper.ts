import type {
  PaperCompany,
  PaperCustomer,
  PaperLanguage,
  PaperMeasurement,
  PaperSite,
  PaperSystem,
} from './paper-parts.ts';

/** What was found and done, as plain data: the record of a ticket as it was closed. */
export interface WorkRecordPaper {
  language: PaperLanguage;
  company: PaperCompany;
  ticketNumber: string;
  /** Counts the times this ticket was closed, from 1: a callback opens it again. */
  sequence: number;
  /** The instant of closing, RFC 3339. It dates the file itself. */
  issuedAt: string;
  issuedText: string;
  /** What the customer called about, in their words. */
  complaint: string;
  complaintGone: 'yes' | 'no' | 'not_tried';
  customer: PaperCustomer;
  site: PaperSite;
  systems: readonly PaperSystem[];
  visits: readonly PaperVisit[];
  works: readonly PaperWork[];
  /** Everything that was measured after the work, limit or not: 'Supply air: 55.0 °F'. */
  measuredAfter?: readonly string[] | undefined;
  /** Why there are no readings after the work, where there are none. */
  noReadingsWhy?: string | undefined;
  refrigerantMoves: readonly PaperRefrigerantMove[];
  conditionLeft: string;
  dangerWarned?: string | undefined;
  cautions: readonly string[];
  /** SHA-256 of the record's content, in hexadecimal. */
  contentHash?: string | undefined;
}

export interface PaperVisit {
  dayText: string;
  technician: string;
  /** 'Section 608, Universal, 0000000': told where refrigerant was handled. */
  certificate?: string | undefined;
}

/** One finding and what came of it. */
export interface PaperWork {
  name: string;
  explanation: string;
  /** Where several systems are at hand, which of them. */
  system?: string | undefined;
  outcome: PaperOutcome;
  readings: readonly PaperBeforeAfter[];
  observations: readonly string[];
  /** What was left open, such as the cause of what was reset. */
  doubts?: readonly string[] | undefined;
  parts: readonly PaperPartUsed[];
  /** Sold and not put in. */
  partsLeftOver: readonly PaperPartLeftOver[];
}

/** Advice is a finding that no work was agreed for. */
export type PaperOutcome =
  | {
      outcome: 'done';
      task: string;
      /** It was only put back to work: nothing was mended. */
      isReset?: boolean | undefined;
      laborWarrantyUntilText?: string | undefined;
    }
  | { outcome: 'not_done'; task: string; reason: string }
  | { outcome: 'not_agreed' };

/** The same thing measured before and after the work; one of them at least. */
export type PaperBeforeAfter =
  | { before: PaperMeasurement; after?: PaperMeasurement | undefined }
  | { before?: undefined; after: PaperMeasurement };

export interface PaperPartUsed {
  name: string;
  /** '1 piece', '1.5 lb'. */
  quantityText: string;
  serial?: string | undefined;
  /** Of what takes the place of another one. */
  oldPart?:
    | 'given_to_customer'
    | 'customer_did_not_want_it'
    | 'kept_for_claim'
    | 'none'
    | undefined;
  oldSerial?: string | undefined;
}

export interface PaperPartLeftOver {
  name: string;
  quantityText: string;
  reason: string;
}

export interface PaperRefrigerantMove {
  dayText: string;
  system: string;
  refrigerant: string;
  direction: 'charged' | 'recovered';
  /** '2 lb 4.0 oz', by the cylinder's weight before and after. */
  weightText: string;
  cylinder: string;
  certificate: string;
}
