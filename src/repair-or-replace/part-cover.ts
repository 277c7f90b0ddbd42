import type { MendedMachine, Repair } from './facts.ts';

/** How a part stands to the maker's warranty; `none` where no warranty ever replaces it. */
export type PartCover = 'covered' | 'ended' | 'not_recorded' | 'none';

type UsedPart = Pick<Repair['work'][number]['parts'][number], 'warrantyClass'>;

/** What of a machine a maker's warranty hangs on. */
type WarrantyDays = Pick<MendedMachine, 'today' | 'partsWarrantyUntil' | 'compressorWarrantyUntil'>;

/**
 * The compressor's own warranty where one is recorded, because makers may give it longer; else the
 * one of the whole unit. Its last day still counts.
 */
export function partCover({ warrantyClass }: UsedPart, machine: WarrantyDays): PartCover {
  if (warrantyClass === 'none') return 'none';
  const { compressorWarrantyUntil, partsWarrantyUntil, today } = machine;
  const until =
    warrantyClass === 'compressor'
      ? (compressorWarrantyUntil ?? partsWarrantyUntil)
      : partsWarrantyUntil;
  if (until === undefined) return 'not_recorded';
  return today <= until ? 'covered' : 'ended';
}
