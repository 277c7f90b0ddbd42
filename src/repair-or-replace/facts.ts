import type { EquipmentKind, RemedyClass } from '../trade/index.ts';

/** A calendar day of the company, such as `2026-07-14`. */
export type Day = string;

/** What is known of the machine an option mends. What is not known is absent and never guessed. */
export interface MendedMachine {
  today: Day;
  kind: EquipmentKind;
  tons?: number;
  refrigerant?: string;
  installedOn?: Day;
  partsWarrantyUntil?: Day;
  compressorWarrantyUntil?: Day;
  laborWarrantyUntil?: Day;
}

/** What an option does to one machine and what it costs. */
export interface Repair {
  /** Parts, goods, labor and access after what is taken off them; no visit fee and no tax. */
  repairCents: number;
  work: readonly {
    remedyClass: RemedyClass;
    parts: readonly { name: string; warrantyClass: 'none' | 'unit' | 'compressor' }[];
  }[];
}

/** A row of the owner's book: what a new machine up to a size typically costs, installed. */
export interface Replacement {
  kind: EquipmentKind;
  /** Included; null for any size. */
  tonsUpTo: number | null;
  typicalPriceCents: number;
}
