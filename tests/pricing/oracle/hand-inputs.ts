/*
 * What the second calculation is given and what it answers, as plain JSON. The types are written
 * out once more instead of being taken from the engine, so that neither can bend the other.
 */

export interface HandInputs {
  rates: HandSummedRates | HandWageRates;
  tiers: {
    mode: 'progressive' | 'flat';
    steps: { upToCents: number | null; factor: string }[];
  };
  policy: {
    secondTaskDiscount: string;
    visitFeeCreditShare: string;
    fairBandTolerance: string;
    causeSearchMinutes: number;
    quoteValidityDays: number;
  };
  period: { code: string; laborFactor: string };
  visitFee: { chargeable: true; amountCents: number } | { chargeable: false; reason: string };
  tax: {
    jurisdiction: string;
    name: string;
    rate: string;
    taxableClasses: HandTaxClass[];
    mode: 'separated' | 'lump_sum';
    separateAboveShare?: string;
    basis: 'item' | 'invoice';
  };
  agreement?: HandAgreement;
  earlierWork?: HandEarlierWork;
  options: HandOptionInput[];
}

/** A book that knows the burdened wage as one sum. */
export interface HandSummedRates extends HandHourlyCarry {
  annualBurdenedWageCents: number;
}

/** A book that knows the wage in its components. */
export interface HandWageRates extends HandHourlyCarry {
  wage: { hourlyCents: number; annualPaidHours: number; burden: HandBurden[] };
}

interface HandHourlyCarry {
  annualAvailableHours: number;
  billableFraction: string;
  annualTruckCents: number;
  annualOverheadCents: number;
  technicianCount: number;
  margin: string;
}

export type HandBurden =
  | { kind: 'share_of_wages'; name: string; share: string; onWagesUpToCents: number | null }
  | { kind: 'yearly_amount'; name: string; annualCents: number };

/** Shares off by class of charge; measured goods are charged as parts. */
export interface HandAgreement {
  code: string;
  name: string;
  discounts: Partial<Record<HandChargeClass, string>>;
}

/** What documents accepted earlier on the same visit have charged, for a change order. */
export interface HandEarlierWork {
  access: { systemId: string; accessGroup: string; minutes: number }[];
  /** Each charged labor line before its discounts. */
  labor: { taskName: string; amountCents: number }[];
}

export interface HandOptionInput {
  title: string;
  work: HandWork[];
  adjustments: { aimedAt: string; amountCents: number; reason: string; byOwner: boolean }[];
}

export interface HandWork {
  findingId: string;
  alsoFindingIds?: string[];
  faultCode: string;
  taskCode: string;
  taskName: string;
  remedyClass:
    | 'reset'
    | 'clean'
    | 'adjust'
    | 'repair'
    | 'replace'
    | 'accessory'
    | 'diagnose'
    | 'advise';
  systemId: string;
  minutes: number;
  accessGroup: string;
  accessMinutes: number;
  parts: HandPart[];
  goods?: HandGood[];
  recall: boolean;
}

export interface HandPart {
  code: string;
  name: string;
  unitCostCents: number;
  quantity: number;
  underManufacturerWarranty: boolean;
  taxClass?: HandGoodsTaxClass;
}

export interface HandGood {
  code: string;
  name: string;
  unit: '[lb_av]' | '[oz_av]' | '[ft_i]' | '[in_i]' | '[gal_us]';
  quantity: string;
  packCostCents: number;
  packQuantity: string;
  taxClass?: HandGoodsTaxClass;
}

export type HandAnswer =
  | { refusals: string[] }
  | { laborRateCents: number; declineTotalCents: number; options: HandOption[] };

export interface HandOption {
  /**
   * Line key to signed cents. Discounts stand under their own keys, one for each rule:
   * `discount:<line>:second_task`, `discount:<line>:earlier_second_task` and
   * `discount:<line>:agreement`. Adjustments of one line are summed under `adjustment:<line>`.
   */
  amounts: Record<string, number>;
  /** Whether the option shows tax to the customer or is one sum that holds the company's own. */
  stated: HandStated;
  taxCents: number;
  totalCents: number;
}

export type HandStated = 'separated' | 'lump_sum';

export type HandChargeClass = 'visit_fee' | 'part' | 'labor' | 'access';

export type HandGoodsTaxClass = 'part' | 'material' | 'equipment';

export type HandTaxClass = 'visit_fee' | 'labor' | 'access' | HandGoodsTaxClass;
