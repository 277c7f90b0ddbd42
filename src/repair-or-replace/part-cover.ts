import type { Day, MendedMachine, Repair } from './facts.ts';

/** How a part stands to the maker's warranty; `none` where no warranty ever replaces it. */
export type PartCover = 'covered' | 'ended' | 'not_recorded' | 'none';

type UsedPart = Pick<Repair['work'][number]['parts'][number], 'warrantyClass'>;

/** What of a machine a maker's warranty hangs on. */
type WarrantyDays = Pick<MendedMachine, 'partsWarrantyUntil' | 'compressorWarrantyUntil'>;

/** How the part stands on a day, the last day of a warranty included. */
export function partCover(
  part: UsedPart,
  machine: WarrantyDays & Pick<MendedMachine, 'today'>,
): PartCover {
  if (part.warrantyClass === 'none') return 'none';
  const until = coveredUntil(part, machine);
  if (until === undefined) return 'not_recorded';
  return machine.today <= until ? 'covered' : 'ended';
}

/**
 * The last day on which the maker replaces a part: by the compressor's own warranty where one is
 * recorded, because makers may give it longer; else by the one of the whole unit.
 * @returns undefined where no warranty ever replaces it, or none is recorded
 */
export function coveredUntil(
  { warrantyClass }: UsedPart,
  { compressorWarrantyUntil, partsWarrantyUntil }: WarrantyDays,
): Day | undefined {
  if (warrantyClass === 'none') return undefined;
  return warrantyClass === 'compressor'
    ? (compressorWarrantyUntil ?? partsWarrantyUntil)
    : partsWarrantyUntil;
}
