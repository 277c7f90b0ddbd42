import type { MendedMachine, Repair } from './facts.ts';

/** How a part stands to the maker's warranty; `none` where no warranty ever replaces it. */
export type PartCover = 'covered' | 'ended' | 'not_recorded' | 'none';

type UsedPart = Repair['work'][number]['parts'][number];

/** The compressor's own warranty where one is recorded, else the one of the whole unit. */
export function partCover({ warrantyClass }: UsedPart, machine: MendedMachine): PartCover {
  if (warrantyClass === 'none') return 'none';
  const { compressorWarrantyUntil, partsWarrantyUntil, today } = machine;
  const until =
    warrantyClass === 'compressor'
      ? (compressorWarrantyUntil ?? partsWarrantyUntil)
      : partsWarrantyUntil;
  if (until === undefined) return 'not_recorded';
  return today <= until ? 'covered' : 'ended';
}
