import type { FaultCode } from '../faults/catalog.ts';

/** What the catalog says of a fault to a customer, in Spanish. */
export interface FaultInSpanish {
  name: string;
  explanation: string;
  /** What each of its signs says, by the identifier of the criterion. */
  signs: Readonly<Record<string, string>>;
  /** Of signs that say another thing on another machine: by what they say in English. */
  signsAsSaid?: Readonly<Record<string, string>>;
  /** Of a symptom alone. */
  notTheCause?: string;
}

/** Some faults of the catalog; together the tables hold every one. */
export type FaultsInSpanish = Partial<Record<FaultCode, FaultInSpanish>>;
