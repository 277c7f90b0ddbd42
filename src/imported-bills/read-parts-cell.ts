import { readDollars } from '../platform/csv/read-dollars.ts';
import type { BillContent } from './contract.ts';

type BilledPart = BillContent['parts'][number];

/**
 * Reads the parts of a bill out of one cell: `name x quantity @ cost = charged`, separated by
 * semicolons. All but the name may be left out: `Capacitor 45/5 x 1 @ 18.40 = 55.20; wire nuts`. The
 * cost is of one piece, what was charged is for all of them.
 * @returns the parts, or the first entry that cannot be read
 */
export function readPartsCell(cell: string): { parts: BilledPart[] } | { unread: string } {
  const parts: BilledPart[] = [];
  for (const entry of cell.split(';')) {
    const text = entry.trim();
    if (text === '') continue;
    const part = readEntry(text);
    if (part === undefined) return { unread: text };
    parts.push(part);
  }
  return { parts };
}

function readEntry(text: string): BilledPart | undefined {
  const { name = '', quantity = '1', cost, charged } = ENTRY.exec(text)?.groups ?? {};
  const unitCostCents = optionalCents(cost);
  const chargedCents = optionalCents(charged);
  const isTooLong = name === '' || name.length > NAME_MAX;
  if (isTooLong || unitCostCents === 'unread' || chargedCents === 'unread') return undefined;
  const count = Number(quantity);
  if (count <= 0) return undefined;
  return {
    name,
    quantity: count,
    ...(unitCostCents !== undefined && { unitCostCents }),
    ...(chargedCents !== undefined && { chargedCents }),
  };
}

const NAME_MAX = 200;

/** No name ends in a sign of these; `16x25x1 filter x 2` has its quantity at the end. */
const ENTRY =
  /^(?<name>[^@=]+?)(?:\s+[x×*]\s*(?<quantity>\d{1,4}(?:\.\d{1,3})?))?(?:\s*@\s*(?<cost>[^@=\s]+))?(?:\s*=\s*(?<charged>[^@=\s]+))?$/iu;

function optionalCents(text: string | undefined): number | undefined | 'unread' {
  if (text === undefined) return undefined;
  const amount = readDollars(text);
  return amount === undefined || amount > CENTS_MAX ? 'unread' : amount;
}

/** As elsewhere: below 21 million dollars, a 32-bit column. */
const CENTS_MAX = 2_000_000_000;
