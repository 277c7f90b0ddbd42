/** A language is one table of words more, in the document room and in each that composes for it. */
export type PaperLanguage = 'en' | 'es';

export interface PaperCompany {
  name: string;
  address: PaperAddress;
  phone: string;
  email: string;
  licenseNumber: string;
  /** Who licenses the company and how to reach them. */
  regulatorLine: string;
}

export interface PaperAddress {
  street: string;
  city: string;
  region: string;
  postalCode: string;
}

export interface PaperCustomer {
  name: string;
  /** Absent when the customer's own address is the site's. */
  address?: PaperAddress | undefined;
}

export interface PaperSite {
  occupant: string;
  address: PaperAddress;
}

export interface PaperSystem {
  name: string;
  model?: string | undefined;
  /** What the nameplate says: 'Run capacitor' - '45/5 µF, 440 V'. */
  nameplate: readonly PaperFact[];
}

export interface PaperFact {
  label: string;
  text: string;
}

export interface PaperFinding {
  name: string;
  explanation: string;
  standing: PaperStanding;
  /** The strongest sign against a contradicted finding, as a sentence. */
  speaksAgainst?: string | undefined;
  /** The owner's recorded reason, where the evidence alone does not carry the work. */
  offeredBecause?: string | undefined;
  /** What speaks against the finding or was left open, each in a plain sentence. */
  doubts: readonly string[];
  measurements: readonly PaperMeasurement[];
  observations: readonly string[];
  cautions: readonly string[];
}

/** The last two appear only where the owner let the work through for a recorded reason. */
export type PaperStanding = 'proven' | 'supported' | 'unproven' | 'contradicted';

export interface PaperMeasurement {
  label: string;
  value: number;
  unit: string;
  /** How many digits after the point are printed, for the value and its uncertainty. */
  decimals: number;
  /** The same for the limits; those of the value unless given. */
  limitDecimals?: number | undefined;
  low?: number | undefined;
  high?: number | undefined;
  /** Half width: the true value lies within value +/- uncertainty. */
  uncertainty?: number | undefined;
  verdict: PaperVerdict;
  /** The limit in words: 'Nameplate 45 µF, 10 % below at most'. */
  limitText: string;
}

/** The last two are of a figure that only tells whether something is there at all. */
export type PaperVerdict = 'within' | 'outside' | 'undecided' | 'present' | 'absent';

export interface PaperOption {
  /** 'A', 'B' or 'C': what the customer says on the phone. */
  letter: string;
  title: string;
  explanation?: string | undefined;
  prices: PaperPrices;
  taxes: readonly PaperAmount[];
  totalCents: number;
}

/**
 * Where a state taxes a lump-sum contract otherwise than separated prices, the paper must not show
 * separate prices at all; then the line amounts are not even part of its data.
 */
export type PaperPrices =
  | {
      kind: 'separated';
      groups: readonly PaperLineGroup<PaperPricedLine>[];
      subtotalCents: number;
    }
  | {
      kind: 'lump_sum';
      groups: readonly PaperLineGroup<PaperLine>[];
      priceCents: number;
    };

/** Lines that belong together: the visit, one finding's work, access, discounts and credits. */
export interface PaperLineGroup<Line> {
  heading: string;
  lines: readonly Line[];
}

export interface PaperLine {
  description: string;
  /** What else the reader should know of the line, printed small beneath it. */
  detail?: string | undefined;
  /** '0.75 h', '2', '1.5 lb'. */
  quantityText?: string | undefined;
}

export interface PaperPricedLine extends PaperLine {
  /** With a quantity it is printed as '0.75 h × $151.00', so that anyone can check the amount. */
  unitPriceCents?: number | undefined;
  amountCents: number;
}

export interface PaperAmount {
  label: string;
  amountCents: number;
}

export interface PaperLegalText {
  title: string;
  text: string;
}

/** An accepted quote that stands, whatever is said to the change of it. */
export interface PaperChanged {
  quoteNumber: string;
  /** What is agreed there, with everything that was added to it since. */
  agreedCents: number;
  /** Something was added to it before. */
  hasGrown: boolean;
}

/** What saying no costs: the visit fee and its tax. */
export interface PaperDecline {
  amounts: readonly PaperAmount[];
  totalCents: number;
}

/** How an answer reached us. */
export type PaperAnswerWay =
  | { way: 'link' }
  | { way: 'staff'; recordedBy: string }
  | { way: 'signed_paper'; recordedBy: string };
