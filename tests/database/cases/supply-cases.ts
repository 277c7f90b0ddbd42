import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import { id, ids, type Row } from '../rows.ts';
import {
  billLineRow,
  billRow,
  billRows,
  carriedRows,
  levelRow,
  moveRow,
  placeRow,
  supplies,
  targetRow,
} from '../supply-rows.ts';
import { refers, signed, word } from './record-cases.ts';

const ofVisit: Row = { kind: 'used', visit_id: ids.visit, quantity: -1 };
const ofBill: Row = {
  ...{ kind: 'billed', bill_id: supplies.bill, bill_position: 2 },
  ...{ part_code: 'CAP-45-5-440', quantity: 2 },
};

/** Guards of suppliers' bills, of what lies where, and of how it got there. */
export const supplyCases: GuardCase[] = [
  // ------------------------------------------------------------ places
  word('stock lies on shelves or in a truck', 'stock_place_kind_known', placeRow, {
    kind: ['pocket', 'truck'],
  }),
  {
    title: 'shelves are nobody’s; a truck may be somebody’s',
    guard: 'stock_place_shelves_are_nobodys',
    sqlState: check,
    breaks: [placeRow({ technician_id: ids.otherTechnician })],
    allows: [
      [placeRow({ technician_id: null })],
      [placeRow({ kind: 'truck', technician_id: ids.otherTechnician })],
      [placeRow({ kind: 'truck', technician_id: null })],
    ],
  },
  {
    title: 'two places never have one name',
    guard: 'stock_place_name_key',
    sqlState: unique,
    breaks: [placeRow({ name: 'Shelves' })],
    allows: [[placeRow({ name: 'More shelves' })]],
  },
  {
    title: 'a technician has one truck; trucks without a technician may be several',
    guard: 'stock_place_technician_key',
    sqlState: unique,
    breaks: [placeRow({ kind: 'truck', technician_id: ids.technician })],
    allows: [
      [
        placeRow({ kind: 'truck' }),
        placeRow({ id: id(189), name: 'Truck 3', kind: 'truck', technician_id: null }),
      ],
    ],
  },
  refers('stock_place_technician_id_fkey', (row) => placeRow({ kind: 'truck', ...row }), {
    technician_id: ids.otherTechnician,
  }),

  // ------------------------------------------------------------ bills
  {
    title: 'a supplier’s bill is recorded once; another supplier may use its number',
    guard: 'supplier_bill_number_key',
    sqlState: unique,
    breaks: [billRow({ number: 'B-1', supplier: 'FERNWICK supply' })],
    allows: [[billRow({ number: 'B-1', supplier: 'Oakmere Parts' })]],
  },
  ...[{ line_count: 3 }, { total_cents: 4_501 }, { total_cents: 4_499 }, { other_cents: 1 }].map(
    (says) => ({
      title: `a bill says the sum of its lines and of the rest to the cent: not ${JSON.stringify(says)}`,
      guard: 'supplier_bill_adds_up',
      sqlState: check,
      breaks: billRows([{}, { amount_cents: 3_000 }], says),
      allows: [
        billRows([{}, { amount_cents: 3_000 }]),
        billRows([{}, { amount_cents: 3_000 }], { other_cents: 725, total_cents: 5_225 }),
        billRows([], { other_cents: 725, total_cents: 725 }),
        billRows([{ quantity: -10, amount_cents: -1_500 }], { total_cents: -1_500 }),
      ],
    }),
  ),
  {
    title: 'a bill that says lines and has none is refused at commit',
    guard: 'supplier_bill_adds_up',
    sqlState: check,
    breaks: [billRow({ line_count: 1 })],
    allows: [[billRow({ line_count: 0 })]],
  },
  ...[
    { position: 4, amount_cents: 1_500 },
    { position: 4, amount_cents: 0 },
    { position: 0, amount_cents: 0 },
  ].map((line) => ({
    title: `no line can be slipped into a bill that was recorded: not ${JSON.stringify(line)}`,
    guard: 'supplier_bill_line_in_its_place',
    sqlState: check,
    breaks: [billLineRow(line)],
    allows: [billRows([{ amount_cents: line.amount_cents }])],
  })),
  ...[
    { quantity: 0, amount_cents: 0 },
    { quantity: 0 },
    { quantity: 'NaN' },
    { quantity: -1, amount_cents: 150 },
    { quantity: 1, amount_cents: -150 },
  ].map((line) => ({
    title: `what comes costs, what goes back is credited, free is fine: not ${JSON.stringify(line)}`,
    guard: 'supplier_bill_line_signs',
    sqlState: check,
    breaks: billRows([line]),
    allows: [
      billRows([{ quantity: -1, amount_cents: -150 }]),
      billRows([{ quantity: 1, amount_cents: 0 }]),
      billRows([{ quantity: '0.001' }]),
    ],
  })),
  signed('supplier_bill_recorded_by_fkey', billRow, 'recorded_by_id'),
  refers('supplier_bill_place_id_fkey', billRow, { place_id: supplies.truck }),
  {
    title: 'a line is of a bill that exists',
    guard: 'supplier_bill_line_bill_id_fkey',
    sqlState: foreignKey,
    breaks: [billLineRow({ bill_id: ids.nobody })],
    allows: [billRows([{}])],
  },

  // ------------------------------------------------------------ moves
  ...[
    { ...ofBill, bill_id: null },
    { ...ofBill, bill_position: null },
    { ...ofBill, visit_id: ids.visit },
    { ...ofBill, other_move_id: supplies.billed },
    { ...ofVisit, visit_id: null },
    { ...ofVisit, quantity: 1 },
    { ...ofVisit, bill_id: supplies.bill, bill_position: 2 },
    { ...ofVisit, bill_position: 2 },
    { ...ofVisit, other_move_id: supplies.billed },
    { ...ofVisit, kind: 'brought_back' },
    { ...ofVisit, kind: 'brought_back', quantity: 1, visit_id: null },
    { ...ofVisit, kind: 'brought_back', quantity: 1, bill_id: supplies.bill, bill_position: 2 },
    { ...ofVisit, kind: 'brought_back', quantity: 1, other_move_id: supplies.billed },
    { kind: 'counted', reason: null },
    { kind: 'counted', reason: ' \n\t' },
    { kind: 'counted', reason: 'Counted.', visit_id: ids.visit },
    { kind: 'counted', reason: 'Counted.', bill_id: supplies.bill, bill_position: 2 },
    { kind: 'counted', reason: 'Counted.', other_move_id: supplies.billed },
    { kind: 'vanished' },
  ].map((move) => ({
    title: `stock moves by a bill, a visit, another place or a count, and says which: not ${toldOf(move)}`,
    guard: 'stock_move_says_from_what',
    behind: ['stock_move_as_billed'],
    sqlState: check,
    breaks: [moveRow(move)],
    allows: [
      [moveRow(ofBill)],
      [moveRow(ofVisit)],
      [moveRow({ ...ofVisit, kind: 'brought_back', quantity: 1 })],
      [moveRow({ quantity: -1 })],
      carriedRows(),
    ],
  })),
  ...[
    { what: 'without its other half', change: { other_move_id: null } },
    { what: 'on a visit', change: { visit_id: ids.visit } },
    { what: 'on a bill', change: { bill_id: supplies.bill, bill_position: 2 } },
  ].map(({ what, change }) => ({
    title: `stock is not carried ${what}`,
    guard: 'stock_move_says_from_what',
    behind: ['stock_move_carried_whole'],
    sqlState: check,
    breaks: carriedRows({}, change),
    allows: [carriedRows()],
  })),
  {
    title: 'a move moves something',
    guard: 'stock_move_moves',
    sqlState: check,
    breaks: [moveRow({ quantity: 0 })],
    allows: [[moveRow({ quantity: '0.001' })], [moveRow({ quantity: '-0.001' })]],
  },
  {
    title: 'what is moved is a number',
    guard: 'stock_move_moves',
    sqlState: check,
    breaks: [moveRow({ quantity: 'NaN' })],
    allows: [[moveRow({ quantity: '99999999.999' })]],
  },
  ...[
    { what: 'another part', change: { part_code: 'FUSE-3' } },
    { what: 'more', change: { quantity: 3 } },
    { what: 'less', change: { quantity: 1 } },
    { what: 'what goes back', change: { quantity: -2 } },
    { what: 'somewhere else', change: { place_id: supplies.truck } },
    { what: 'a line that is no part', change: { bill_position: 3 } },
  ].map(({ what, change }) => ({
    title: `what comes onto the shelf is what was billed: not ${what}`,
    guard: 'stock_move_as_billed',
    sqlState: check,
    breaks: [moveRow({ ...ofBill, ...change })],
    allows: [
      [moveRow(ofBill)],
      [
        ...billRows([{ quantity: -3, amount_cents: -450 }]),
        moveRow({ kind: 'billed', bill_id: id(88), bill_position: 1, quantity: -3 }),
      ],
    ],
  })),
  {
    title: 'a line of a bill is put on the shelf once',
    guard: 'stock_move_bill_line_counted_once',
    sqlState: unique,
    behind: ['stock_move_as_billed'],
    breaks: [moveRow({ ...ofBill, bill_position: 1 })],
    allows: [[moveRow(ofBill)]],
  },
  {
    title: 'what is put on the shelf from a bill is a line of that bill',
    guard: 'stock_move_of_a_bill',
    sqlState: foreignKey,
    behind: ['stock_move_as_billed'],
    breaks: [moveRow({ ...ofBill, bill_position: 9 })],
    allows: [[moveRow(ofBill)]],
  },
  {
    title: 'what is used is used on a visit that exists',
    guard: 'stock_move_of_a_visit',
    sqlState: foreignKey,
    breaks: [moveRow({ ...ofVisit, visit_id: ids.nobody })],
    allows: [[moveRow(ofVisit)]],
  },
  {
    title: 'the other half of what is carried is a move that exists',
    guard: 'stock_move_has_another_half',
    behind: ['stock_move_carried_whole'],
    sqlState: foreignKey,
    breaks: carriedRows({ other_move_id: ids.nobody }),
    allows: [carriedRows()],
  },
  ...[
    { what: 'and more arrives than left', arrived: { quantity: 3 } },
    { what: 'and less arrives than left', arrived: { quantity: 1 } },
    { what: 'and leaves twice', arrived: { quantity: -2 } },
    { what: 'and another part arrives', arrived: { part_code: 'CAP-45-5-440' } },
    { what: 'to where it was', arrived: { place_id: supplies.shelves } },
    { what: 'and arrives from something else', arrived: { other_move_id: supplies.carriedOut } },
    {
      what: 'and was counted at the other end',
      arrived: { kind: 'counted', reason: 'Counted.', other_move_id: null },
    },
  ].map(({ what, arrived }) => ({
    title: `between two places nothing is gained or lost: it is not carried ${what}`,
    guard: 'stock_move_carried_whole',
    sqlState: check,
    breaks: carriedRows({}, arrived),
    allows: [carriedRows()],
  })),
  {
    title: 'what left once does not arrive a second time',
    guard: 'stock_move_carried_whole',
    sqlState: check,
    breaks: [
      ...carriedRows(),
      moveRow({
        ...{ id: id(189), place_id: supplies.truck, kind: 'carried' },
        ...{ quantity: 2, other_move_id: id(187) },
      }),
    ],
    allows: [carriedRows()],
  },
  signed('stock_move_recorded_by_fkey', moveRow, 'recorded_by_id'),
  {
    ...refers('stock_move_place_id_fkey', moveRow, { place_id: supplies.truck }),
    behind: ['stock_level_place_id_fkey'],
  },

  // ------------------------------------------------------------ levels and targets
  refers('stock_level_place_id_fkey', levelRow, { place_id: supplies.shelves }),
  ...[
    { reorder_at: -1 },
    { reorder_at: 10 },
    { reorder_at: 11 },
    { reorder_at: 0, order_up_to: 0 },
    { order_up_to: 'NaN' },
    { reorder_at: 'NaN' },
  ].map((change) => ({
    title: `one orders up to more than is left when one orders: not ${JSON.stringify(change)}`,
    guard: 'stock_target_orders_upward',
    sqlState: check,
    breaks: [targetRow(change)],
    allows: [
      [targetRow({ reorder_at: 0, order_up_to: '0.5' })],
      [targetRow({ reorder_at: '9.999' })],
    ],
  })),
  refers('stock_target_place_id_fkey', targetRow, { place_id: supplies.truck }),
];

function toldOf(move: Row): string {
  return Object.entries(move)
    .map(([column, value]) => `${column} ${typeof value === 'string' ? value.trim() : value}`)
    .join(', ');
}
