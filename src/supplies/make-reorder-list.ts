import type { ReorderList } from './contract.ts';
import { type Order, orderNeeded } from './order-needed.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import type { ShortPart } from './short-parts.ts';

/**
 * The list a supplier is called with: what each has to send, part by part and place by place. A
 * pack goes whole to one place, so each place orders packs of its own.
 * @param short by supplier, part and place
 * @param options.withCosts whether it says what the order costs by the book
 */
export function makeReorderList(
  short: readonly ShortPart[],
  { withCosts }: { withCosts: boolean },
): ReorderList {
  const notInBook: ReorderList['notInBook'] = [];
  const lines: Line[] = [];
  for (const { partCode, part, ...place } of short) {
    if (part === null) notInBook.push({ partCode, ...place });
    else lines.push({ partCode, part, place, order: orderNeeded(place, part) });
  }
  const suppliers = runsOf(lines, ({ part }) => part.supplier).map(([first, ...others]) => ({
    supplier: first.part.supplier,
    ...(withCosts && costOf([first, ...others])),
    parts: runsOf([first, ...others], ({ partCode }) => partCode).map((run) =>
      partBody(run, withCosts),
    ),
  }));
  return { suppliers, notInBook };
}

interface Line {
  partCode: string;
  part: NonNullable<ShortPart['part']>;
  place: Omit<ShortPart, 'partCode' | 'part'>;
  order: Order;
}

/** Lines that belong together; there is always one. */
type Run = [Line, ...Line[]];

/** Neighbors that have the same key. */
function runsOf(lines: readonly Line[], keyOf: (line: Line) => string | null): Run[] {
  const runs: Run[] = [];
  for (const line of lines) {
    const last = runs.at(-1);
    if (last !== undefined && keyOf(last[0]) === keyOf(line)) last.push(line);
    else runs.push([line]);
  }
  return runs;
}

function partBody(run: Run, withCosts: boolean): ReorderList['suppliers'][number]['parts'][number] {
  const [{ partCode, part }] = run;
  const { name, unit, packQuantity } = part;
  return {
    partCode,
    name,
    unit,
    packQuantity,
    quantity: quantityText(sum(run.map(({ order }) => thousandthsOf(order.quantity)))),
    packs:
      packQuantity === null
        ? null
        : run.reduce((packs, { order }) => packs + (order.packs ?? 0), 0),
    ...(withCosts && costOf(run)),
    places: run.map((line) => {
      const { quantity, packs } = line.order;
      return { ...line.place, quantity, packs, ...(withCosts && costOf([line])) };
    }),
  };
}

// A target of a million and a pack of a thousandth pass each check alone. Together they can come to
// more cents than a number holds exactly, and nobody orders that.
function costOf(lines: readonly Line[]): { costCents: number | null } {
  const costCents = sum(lines.map(({ order }) => order.costCents));
  return { costCents: costCents > Number.MAX_SAFE_INTEGER ? null : Number(costCents) };
}

function sum(amounts: readonly bigint[]): bigint {
  return amounts.reduce((total, amount) => total + amount, 0n);
}
