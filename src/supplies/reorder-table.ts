import { writeDollars } from '../platform/csv/write-dollars.ts';
import { writeTable } from '../platform/csv/write-table.ts';
import { goodsUnitSchema, measuredText } from '../pricing/index.ts';
import type { ReorderList } from './contract.ts';

/**
 * The reorder list as a CSV file, a row for each part and place; amounts are dollars.
 * @param options.withCosts whether it has a column of what the order costs by the book
 */
export function reorderTable(
  { suppliers }: ReorderList,
  { withCosts }: { withCosts: boolean },
): Uint8Array {
  const rows = suppliers.flatMap(({ supplier, parts }) =>
    parts.flatMap(({ partCode, name, unit, places }) =>
      places.map((place) => [
        supplier ?? '',
        partCode,
        name,
        place.placeName,
        place.level,
        place.reorderAt,
        place.orderUpTo,
        unit === null ? place.quantity : measuredText(place.quantity, goodsUnitSchema.parse(unit)),
        place.packs === null ? '' : String(place.packs),
        ...(withCosts ? [costCell(place.costCents)] : []),
      ]),
    ),
  );
  return writeTable(withCosts ? [...COLUMNS, 'cost'] : COLUMNS, rows);
}

function costCell(costCents: number | null | undefined): string {
  return typeof costCents === 'number' ? writeDollars(costCents) : '';
}

const COLUMNS = [
  'supplier',
  'part_code',
  'name',
  'place',
  'level',
  'reorder_at',
  'order_up_to',
  'order',
  'packs',
];
