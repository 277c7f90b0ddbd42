import { id, ids, insert, type Row, type Statement } from './rows.ts';

const now = '2026-07-15T19:00:00Z';

/** What suppliers billed and where it lies; the stock of a test database has all of it. */
export const supplies = {
  shelves: id(80),
  truck: id(81),
  bill: id(82),
  billed: id(83),
  used: id(84),
  carriedOut: id(85),
  carriedIn: id(86),
} as const;

export function placeRow(change: Row = {}): Statement {
  return insert('stock_place', {
    id: id(89),
    name: 'Back room',
    kind: 'shelves',
    created_at: now,
    ...change,
  });
}

export function billRow(change: Row = {}): Statement {
  return insert('supplier_bill', {
    id: id(88),
    supplier: 'Fernwick Supply',
    number: 'B-2',
    billed_on: '2026-07-14',
    place_id: supplies.shelves,
    line_count: 0,
    other_cents: 0,
    total_cents: 0,
    recorded_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

/** A line of the bill of the stock unless a change says otherwise. */
export function billLineRow(change: Row = {}): Statement {
  return insert('supplier_bill_line', {
    bill_id: supplies.bill,
    position: 4,
    part_code: 'FUSE-3',
    description: 'Fuses 3 A',
    quantity: 10,
    amount_cents: 1_500,
    ...change,
  });
}

/** A bill with the lines given; counts and sums are right unless a change says otherwise. */
export function billRows(lines: Row[], change: Row = {}): Statement[] {
  const amounts = lines.map((line) => Number(line['amount_cents'] ?? 1_500));
  const total_cents = amounts.reduce((sum, amount) => sum + amount, 0);
  return [
    billRow({ line_count: lines.length, total_cents, ...change }),
    ...lines.map((line, at) => billLineRow({ bill_id: id(88), position: at + 1, ...line })),
  ];
}

/** A count that found one fuse more unless a change says otherwise. */
export function moveRow(change: Row = {}): Statement {
  return insert('stock_move', {
    id: id(87),
    place_id: supplies.shelves,
    part_code: 'FUSE-3',
    quantity: 1,
    kind: 'counted',
    reason: change['kind'] === undefined ? 'Counted on the shelf.' : null,
    moved_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

/** Fuses carried from the shelves to the truck: what left, and what arrived. */
export function carriedRows(left: Row = {}, arrived: Row = {}): Statement[] {
  const [out, into] = [id(187), id(188)];
  return [
    moveRow({ id: out, kind: 'carried', quantity: -2, other_move_id: into, ...left }),
    moveRow({
      ...{ id: into, place_id: supplies.truck, kind: 'carried', quantity: 2 },
      ...{ other_move_id: out, ...arrived },
    }),
  ];
}

export function levelRow(change: Row = {}): Statement {
  return insert('stock_level', {
    place_id: supplies.truck,
    part_code: 'CAP-45-5-440',
    quantity: 1,
    ...change,
  });
}

export function targetRow(change: Row = {}): Statement {
  return insert('stock_target', {
    place_id: supplies.truck,
    part_code: 'FUSE-3',
    reorder_at: 2,
    order_up_to: 10,
    ...change,
  });
}

/** Two places, a bill of fuses and what became of them. */
export function supplyRows(): Statement[] {
  const { shelves, truck, bill, billed, used, carriedOut, carriedIn } = supplies;
  return [
    placeRow({ id: shelves, name: 'Shelves' }),
    placeRow({ id: truck, name: 'Truck 1', kind: 'truck', technician_id: ids.technician }),
    billRow({ id: bill, number: 'B-1', line_count: 3, other_cents: 900, total_cents: 9_080 }),
    billLineRow({ position: 1 }),
    billLineRow({ position: 2, part_code: 'CAP-45-5-440', quantity: 2, amount_cents: 3_680 }),
    billLineRow({ position: 3, part_code: null, description: 'Gloves', amount_cents: 3_000 }),
    moveRow({ id: billed, quantity: 10, kind: 'billed', bill_id: bill, bill_position: 1 }),
    ...carriedRows(
      { id: carriedOut, quantity: -4, other_move_id: carriedIn },
      { id: carriedIn, quantity: 4, other_move_id: carriedOut },
    ),
    moveRow({ id: used, place_id: truck, quantity: -1, kind: 'used', visit_id: ids.visit }),
    targetRow({ place_id: shelves }),
  ];
}
