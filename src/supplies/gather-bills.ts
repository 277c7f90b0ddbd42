import type { FileMistake } from '../platform/csv/mistakes.ts';
import type { NewBill } from './contract.ts';
import type { BillColumn, BillRow } from './read-bill-row.ts';

/** A bill out of a file, and where its parts stand there. */
export interface FiledBill {
  bill: NewBill;
  /** Of its first row. */
  line: number;
  lineOfItem: number[];
}

/** The bills of a file, or what its rows get wrong together. */
export interface GatheredBills {
  bills: FiledBill[];
  mistakes: FileMistake[];
}

/**
 * Puts the rows of a file together to bills: rows of one supplier and number are one bill. Its
 * first row has the whole head; later ones leave it out or say the same.
 * @param places identifiers by name
 */
export function gatherBills(
  rows: readonly BillRow[],
  places: ReadonlyMap<string, string>,
): GatheredBills {
  const gathered: GatheredBills = { bills: [], mistakes: [] };
  for (const [first, ...later] of rowsByBill(rows)) {
    if (first === undefined) continue;
    const mistakes = [
      ...incompleteHead(first, places),
      ...later.flatMap((row) => differences(first, row)),
    ];
    gathered.mistakes.push(...mistakes);
    if (mistakes.length === 0) gathered.bills.push(toBill(first, later, places));
  }
  return gathered;
}

function rowsByBill(rows: readonly BillRow[]): Iterable<BillRow[]> {
  const byBill = new Map<string, BillRow[]>();
  for (const row of rows) {
    const key = JSON.stringify([row.head.supplier.toLowerCase(), row.head.number]);
    const together = byBill.get(key);
    if (together === undefined) byBill.set(key, [row]);
    else together.push(row);
  }
  return byBill.values();
}

function incompleteHead(
  { line, head }: BillRow,
  places: ReadonlyMap<string, string>,
): FileMistake[] {
  const missing = NEEDED.filter((column) => head[column] === undefined).map((column) => ({
    line,
    column,
    message: 'is missing: the first row of a bill has it',
  }));
  if (head.place === undefined || places.has(head.place)) return missing;
  return [...missing, { line, column: 'place', message: 'There is no such place.' }];
}

const NEEDED = ['billed_on', 'place', 'total'] as const satisfies BillColumn[];

function differences(first: BillRow, { line, head }: BillRow): FileMistake[] {
  return ONCE.filter((column) => (head[column] ?? first.head[column]) !== first.head[column]).map(
    (column) => ({
      line,
      column,
      message: `is not what line ${first.line} says of the same bill`,
    }),
  );
}

const ONCE = [...NEEDED, 'other_charges'] as const;

function toBill(
  first: BillRow,
  later: readonly BillRow[],
  places: ReadonlyMap<string, string>,
): FiledBill {
  const rows = [first, ...later];
  const { supplier, number, billed_on = '', place = '', other_charges = 0, total = 0 } = first.head;
  return {
    bill: {
      supplier,
      number,
      billedOn: billed_on,
      placeId: places.get(place) ?? '',
      otherCents: other_charges,
      totalCents: total,
      lines: rows.map(({ item }) => item),
    },
    line: first.line,
    lineOfItem: rows.map(({ line }) => line),
  };
}
