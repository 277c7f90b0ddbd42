import type { BilledLine, Credit, TaxedDocument } from '../../billing/index.ts';
import type {
  Cents,
  OtherBook,
  PricedOption,
  PricingInputs,
  TaxRule,
} from '../../pricing/index.ts';

/**
 * What is known of one job that is over: a ticket of ours, or a bill of another time or company.
 * A group of facts that is absent is not known, and a rule that needs it says so instead of
 * guessing; an empty list is known to be empty. Instants are RFC 3339 with `Z`, days are local
 * days as text.
 */
export interface JobFacts {
  readonly ended: 'closed' | 'cancelled' | 'resolved_by_phone' | 'billed';
  /** Everything it was billed by; none where nothing was. */
  readonly documents: readonly JobDocument[];
  readonly findings?: readonly JobFinding[];
  readonly visits?: readonly JobVisit[];
  readonly work?: JobWork;
  /** What was mended before on the same systems, on other tickets or at earlier trips of this one. */
  readonly earlierRepairs?: readonly EarlierRepair[];
  readonly refrigerant?: RefrigerantOnJob;
  /** Of a bill that was not computed by us: what it says besides its charges. */
  readonly bill?: BillFacts;
}

/** The groups of facts that a rule may miss. */
export const factGroups = [
  'findings',
  'readings',
  'visits',
  'work',
  'earlier_repairs',
  'refrigerant',
  'price_inputs',
  'day_of_yes',
  'book_in_force',
  'tax_in_force',
  'what_was_done',
  'hours',
  'clock',
  'parts_cost',
  'split_of_charge',
  'cause_search',
] as const;
export type FactGroup = (typeof factGroups)[number];

/** One billed document: an accepted option, the fee of a trip without one, or a whole imported bill. */
export interface JobDocument {
  /** The invoice, or the imported bill. */
  readonly invoiceId: string;
  readonly position: number;
  readonly kind: 'accepted' | 'visit_fee' | 'bill';
  /** What people call it: `quote 1042`, `the fee of May 4`. */
  readonly title: string;
  readonly quoteId: string | null;
  /** Of a change order: the quote that it changes. */
  readonly parentQuoteId?: string | null;
  /** The visit that it is of, where that is known: the fee's, or the one at which it was quoted. */
  readonly visitId?: string;
  /**
   * Of a bill that we did not compute: `visit_fee`, `labor` and `part` as far as it tells them
   * apart, and `lump` for the rest, or for all of it where it is one sum. `tax` stands there where
   * it is told apart, be it nothing; elsewhere the others hold it.
   */
  readonly lines: readonly BilledLine[];
  /** What was taken off its lines before: as not done, or by credit memos. */
  readonly credited: readonly Credit[];
  /** The tax that is left of it after those. */
  readonly taxLeftCents: Cents;
  /** How its tax follows from its lines; not known of imported bills. */
  readonly taxing?: Omit<TaxedDocument, 'lines'>;
  /** What it was computed from, as stored with it. */
  readonly price?: StoredPrice;
  /** The price book that was in force when it was priced. */
  readonly book?: OtherBook;
  /**
   * The hours of the window that was agreed to at the call, by the book in force then; where they
   * are not known, those that it was priced by stand.
   */
  readonly hours?: PricingInputs['period'];
  /** The tax rule that was in force at the yes; null where the jurisdiction had none. */
  readonly taxInForce?: TaxRule | null;
  readonly agreed?: {
    readonly issuedAt: string;
    readonly acceptedAt: string;
    /** The local day of the yes: in the evening of a US day it is the next one in UTC. */
    readonly acceptedOn: string;
  };
}

export interface StoredPrice {
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  /** Where the accepted option stands among those of its revision, from 0. */
  readonly optionAt: number;
}

/** A finding with what it rested on. */
export interface JobFinding {
  readonly id: string;
  readonly visitId: string;
  readonly systemId: string;
  readonly faultCode: string;
  readonly taskCode: string;
  /** As frozen with the finding. */
  readonly remedyClass: string;
  /** `proven`, `supported` and so on; absent where nobody weighed anything. */
  readonly standing?: string;
  /** Whether the evidence carried its price. */
  readonly priceable?: boolean;
  /** Whether the owner gave a reason to price it all the same. */
  readonly isOverridden: boolean;
  readonly foundAt: string;
  /** Local day. */
  readonly foundOn: string;
  /** When the last reading was taken that its verdict rests on. */
  readonly lastReadingAt?: string;
  /** Of a reset: whether a technician's own look for its cause is on record. */
  readonly causeLookedFor?: boolean;
  /** Its parts, with the last day on which the maker replaces each; null where there is no such day. */
  readonly parts: readonly {
    readonly code: string;
    readonly category: string;
    readonly warrantedUntil: string | null;
  }[];
}

export interface JobVisit {
  readonly id: string;
  readonly purpose: string;
  readonly state: string;
  /** The visit whose fee is that of the whole trip, where this one belongs to it. */
  readonly sameTripAs: string | null;
  readonly feeCents: Cents;
  readonly arrivedAt: string | null;
  readonly leftAt: string | null;
  readonly technicianId: string;
}

export interface JobWork {
  readonly outcomes: readonly {
    readonly quoteId: string;
    readonly findingId: string;
    readonly outcome: 'done' | 'not_done';
    readonly recordedAt: string;
    /** The visit at which it was recorded, where that is known. */
    readonly visitId?: string;
  }[];
  /** Parts and goods that went in, struck records left out. */
  readonly uses: readonly {
    readonly quoteId: string;
    readonly findingId: string;
    readonly partCode: string;
    /** Decimal text, in pieces or in the unit of the price book. */
    readonly quantity: string;
    readonly recordedAt: string;
    readonly visitId?: string;
  }[];
}

export interface EarlierRepair {
  readonly ticketNumber: number;
  readonly systemId: string;
  readonly faultCode: string;
  /** The finding that it mended, where that is known: a finding is never held against itself. */
  readonly findingId?: string;
  /** The visit at which it was done, where that is known, and when somebody arrived there. */
  readonly visitId?: string;
  readonly arrivedAt?: string;
  /** The instant at which it was recorded as done, where that is known. */
  readonly doneAt?: string;
  /** Local day. */
  readonly doneOn: string;
  /** The last day on which the same fault is mended again at no charge. */
  readonly laborWarrantyUntil: string | null;
  readonly partCategories: readonly string[];
}

export interface RefrigerantOnJob {
  /** Gauges were attached: a pressure was read. */
  readonly gaugesUsed: boolean;
  /** Weighings on record, struck ones left out. */
  readonly movesRecorded: number;
  /** Of each technician who was there: the certificate held on that day, by its type; null for none. */
  readonly certificates: readonly { readonly technicianId: string; readonly type: string | null }[];
}

/** What a bill says that we did not compute. */
export interface BillFacts {
  /** What our price book and today's policy would come to for what it says was done. */
  readonly fair?: FairPrice;
  /** Hours charged, as decimal text, where it says them. */
  readonly hours?: string;
  /** Minutes between arriving and leaving, where it says both. */
  readonly clockMinutes?: number;
  readonly parts: readonly BilledPart[];
  /** Why there is no fair price, in whole sentences: words not understood, no part that fits. */
  readonly notPriced?: readonly string[];
  /** Only what a reset puts right was found, and what was done is not that or not understood. */
  readonly foundReset?: FoundOnlyReset;
}

/** What a bill says was found, word for word, and what its reset comes to by our price book. */
export interface FoundOnlyReset {
  readonly found: string;
  /** Beside all that the bill charges, as the fair price is. */
  readonly resetCents: Cents;
  /** The policy's, by which a bill may be above it. */
  readonly tolerance: string;
}

export interface BilledPart {
  readonly name: string;
  readonly quantity: number;
  /** What one cost whoever put it in. */
  readonly unitCostCents?: Cents;
  /** What was charged for all of them; absent where the bill is one sum. */
  readonly chargedCents?: Cents;
}

export interface FairPrice {
  /**
   * Its total stands beside all that the bill charges, tax included: with our tax in it, but for a
   * bill that says that there was none, or where no tax rule of ours is on record.
   */
  readonly option: PricedOption;
  /** In the cheapest of our hours, where nobody knows when somebody came and it matters. */
  readonly fromCents?: Cents;
  readonly price: StoredPrice;
  readonly taskCodes: readonly string[];
  /** What was chosen where the bill leaves a choice, in whole sentences. */
  readonly choices?: readonly string[];
}
