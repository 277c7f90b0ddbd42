import type { ReorderList } from './contract.ts';
import { orderNeeded } from './order-needed.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import type { ShortPart } from './short-parts.ts';

type Supplier = ReorderList['suppliers'][number];
type Part = Supplier['parts'][number];

/**
 * The list a supplier is called with: what each has to send, part by part and place by place. A
 * pack goes whole to one place, so each place orders packs of its own.
 * @param short by supplier, part and place
 */
export function makeReorderList(short: readonly ShortPart[]): ReorderList {
  const list: ReorderList = { suppliers: [], notInBook: [] };
  for (const { partCode, part, ...place } of short) {
    if (part === null) {
      list.notInBook.push({ partCode, ...place });
      continue;
    }
    const order = orderNeeded(place, part);
    const supplier = supplierIn(list, part.supplier);
    const line = lineIn(supplier, partCode, part);
    supplier.costCents += order.costCents;
    line.quantity = quantityText(thousandthsOf(line.quantity) + thousandthsOf(order.quantity));
    line.packs = order.packs === null ? null : (line.packs ?? 0) + order.packs;
    line.costCents += order.costCents;
    line.places.push({ ...place, ...order });
  }
  return list;
}

function supplierIn({ suppliers }: ReorderList, name: string | null): Supplier {
  const last = suppliers.at(-1);
  if (last !== undefined && last.supplier === name) return last;
  const next: Supplier = { supplier: name, costCents: 0, parts: [] };
  suppliers.push(next);
  return next;
}

function lineIn(
  { parts }: Supplier,
  partCode: string,
  { name, unit, packQuantity }: NonNullable<ShortPart['part']>,
): Part {
  const last = parts.at(-1);
  if (last?.partCode === partCode) return last;
  const totals = { quantity: '0', packs: null, costCents: 0 };
  const next: Part = { partCode, name, unit, packQuantity, ...totals, places: [] };
  parts.push(next);
  return next;
}
