import { dayText } from '../platform/calendar-day.ts';
import type { Equipment, PriceBookPart } from '../platform/database/generated/client.ts';
import { warrantyClassSchema } from '../pricebook/index.ts';
import { partCover } from '../repair-or-replace/index.ts';

/** Until when a machine's parts are replaced by its maker. */
export type WarrantedMachine = Pick<Equipment, 'partsWarrantyUntil' | 'compressorWarrantyUntil'>;

/**
 * Whether the maker's warranty of a machine replaces a part: by the same rule that the facts on
 * repairing or replacing go by.
 * @param today the local day: the last day of a warranty still counts
 */
export function isWarranted(
  { warrantyClass }: Pick<PriceBookPart, 'warrantyClass'>,
  { partsWarrantyUntil, compressorWarrantyUntil }: WarrantedMachine,
  today: string,
): boolean {
  const cover = partCover(
    { warrantyClass: warrantyClassSchema.parse(warrantyClass) },
    {
      today,
      ...(partsWarrantyUntil && { partsWarrantyUntil: dayText(partsWarrantyUntil) }),
      ...(compressorWarrantyUntil && { compressorWarrantyUntil: dayText(compressorWarrantyUntil) }),
    },
  );
  return cover === 'covered';
}
