import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  acceptedDocument,
  agreedRows,
  billedLines,
  billedRows,
  closedRows,
  closedWith,
  committed,
  creditedLabor,
  invoiceIs,
  invoiceRows,
  jobOf,
  jobs,
  memoLineRow,
  memoRows,
  outcomeRow,
  paymentRow,
  refundRow,
  settled,
  undoneDocument,
  voidRow,
} from '../life-rows.ts';
import { id, ids, type Row, type Statement, sha256Of } from '../rows.ts';
import { signed, word } from './record-cases.ts';

const { owed, closed, settled: done } = jobs;
/** Jobs that are not in the stock: one without its labor, one with a discount. */
const [less, cheap] = [jobOf(313), jobOf(314)];
const payment = (change: Row = {}) => paymentRow(owed, change);
const paid: Statement[] = [payment({ amount_cents: 10_800 }), invoiceIs(owed, 'settled')];
const bumped = invoiceIs(owed, 'issued');
const labor: Row = { key: 'labor', amount_cents: 1 };
const creditedPart: Row = { key: 'part', price_class: 'part', amount_cents: 100 };

/** Guards of payments, refunds and credits. */
export const moneyCases: GuardCase[] = [
  // ------------------------------------------------------------ payments
  word('money comes in a way we know', 'payment_method_known', payment, {
    method: ['barter', 'bank_transfer'],
  }),
  ...[0, -1].map((amount_cents) => ({
    title: `a payment pays something: not ${amount_cents}`,
    guard: 'payment_amount_positive',
    sqlState: check,
    breaks: [payment({ amount_cents })],
    allows: [[payment({ amount_cents: 1 })]],
  })),
  ...[null, '', ' '].map((reference) => ({
    title: `what is not cash has a reference: not ${JSON.stringify(reference)}`,
    guard: 'payment_reference_given',
    sqlState: check,
    breaks: [payment({ reference })],
    allows: [[payment()], [payment({ method: 'cash', reference: null })]],
  })),
  {
    title: 'money did not come in after it was written down',
    guard: 'payment_not_of_the_future',
    sqlState: check,
    breaks: [payment({ received_at: '2026-07-15T19:30:01Z' })],
    allows: [[payment({ received_at: '2026-07-15T19:30:00Z' })]],
  },
  {
    title: 'money did not come in before the ticket was opened',
    guard: 'payment_once_ticket_opened',
    sqlState: check,
    breaks: [payment({ received_at: '2026-07-15T18:59:59Z' })],
    allows: [[payment({ received_at: '2026-07-15T19:00:00Z' })]],
  },
  {
    title: 'a receipt has a number of its own',
    guard: 'payment_receipt_number_key',
    sqlState: unique,
    breaks: [payment({ receipt_number: 5 }), payment({ id: id(1_299), receipt_number: 5 })],
    allows: [[payment(), payment({ id: id(1_299) })]],
  },
  signed('payment_recorded_by_fkey', payment, 'recorded_by_id'),
  {
    title: 'nothing is paid on a draft',
    guard: 'payment_of_issued_invoice',
    sqlState: check,
    breaks: [paymentRow(closed)],
    allows: [[...billedRows(closed), paymentRow(closed)]],
  },
  ...[
    { what: 'at once', rows: [payment({ amount_cents: 10_801 })] },
    {
      what: 'in two steps',
      rows: [payment({ amount_cents: 10_800 }), payment({ id: id(1_299), amount_cents: 1 })],
    },
    {
      what: 'after a credit',
      rows: [...memoRows(owed), payment({ amount_cents: 10_261 })],
    },
  ].map(({ what, rows }) => ({
    title: `no more is paid than is owed, to the cent: ${what}`,
    guard: 'payment_counts',
    says: 'payment_within_balance',
    sqlState: check,
    breaks: rows,
    allows: [
      [payment({ amount_cents: 10_800 }), invoiceIs(owed, 'settled')],
      [payment(), payment({ id: id(1_299), amount_cents: 5_800 }), invoiceIs(owed, 'settled')],
      [...memoRows(owed), payment({ amount_cents: 10_260 }), invoiceIs(owed, 'settled')],
      [
        ...[payment({ amount_cents: 10_800 }), voidRow()],
        ...[payment({ id: id(1_299), amount_cents: 10_800 }), invoiceIs(owed, 'settled')],
      ],
    ],
  })),
  {
    title: 'a settled invoice takes no more',
    guard: 'payment_counts',
    says: 'payment_within_balance',
    sqlState: check,
    breaks: [paymentRow(done, { amount_cents: 1 }), invoiceIs(done, 'issued')],
    allows: [[payment()]],
  },

  // ------------------------------------------------------------ voids
  {
    title: 'why a payment is void is said',
    guard: 'payment_void_reason_given',
    sqlState: check,
    breaks: [payment(), voidRow({ reason: ' ' })],
    allows: [[payment(), voidRow()]],
  },
  {
    title: 'a payment is void once',
    guard: 'payment_void_pkey',
    sqlState: unique,
    breaks: [voidRow({ payment_id: settled.bounced })],
    allows: [[payment(), voidRow()]],
  },
  {
    title: 'whoever said that a payment is void is a member of staff',
    guard: 'payment_void_recorded_by_fkey',
    sqlState: foreignKey,
    breaks: [payment(), voidRow({ recorded_by_id: ids.nobody })],
    allows: [[payment(), voidRow({ recorded_by_id: ids.technician })]],
  },
  {
    title: 'only a payment that is there is void',
    guard: 'payment_void_of_issued_invoice',
    sqlState: check,
    breaks: [voidRow({ payment_id: ids.nobody })],
    allows: [[payment(), voidRow()]],
    secondLine: { sqlState: foreignKey, constraint: 'payment_void_payment_id_fkey' },
  },
  {
    title: 'a payment that was given back is not void afterwards',
    guard: 'payment_void_counts',
    says: 'payment_void_leaves_refunds_covered',
    sqlState: check,
    breaks: [voidRow({ payment_id: settled.payment }), invoiceIs(done, 'issued')],
    allows: [[...paid, voidRow(), invoiceIs(owed, 'issued')]],
  },

  // ------------------------------------------------------------ refunds
  {
    title: 'money goes back in a way we know',
    guard: 'refund_method_known',
    sqlState: check,
    breaks: givenBack({ method: 'barter', reference: 'A goat.' }),
    allows: [givenBack({})],
  },
  ...[0, -1].map((amount_cents) => ({
    title: `a refund gives something: not ${amount_cents}`,
    guard: 'refund_amount_positive',
    sqlState: check,
    breaks: [...givenBack({ amount_cents }), bumped],
    allows: [[...givenBack({ amount_cents: 1 }), bumped]],
  })),
  ...[null, ' '].map((reference) => ({
    title: `a refund that is not cash has a reference: not ${JSON.stringify(reference)}`,
    guard: 'refund_reference_given',
    sqlState: check,
    breaks: givenBack({ method: 'check', reference }),
    allows: [givenBack({ method: 'check', reference: '77' }), givenBack({})],
  })),
  {
    title: 'whoever gave money back is a member of staff',
    guard: 'refund_recorded_by_fkey',
    sqlState: foreignKey,
    breaks: givenBack({ recorded_by_id: ids.nobody }),
    allows: [givenBack({})],
  },
  {
    title: 'money did not go back after it was written down',
    guard: 'refund_not_of_the_future',
    sqlState: check,
    breaks: givenBack({ paid_at: '2026-07-15T19:30:01Z' }),
    allows: [givenBack({})],
  },
  {
    title: 'money did not go back before any came in, voided payments aside',
    guard: 'refund_once_paid',
    sqlState: check,
    breaks: [
      ...[payment({ received_at: '2026-07-15T19:10:00Z' }), voidRow()],
      ...[payment({ id: id(1_299), amount_cents: 10_800 }), invoiceIs(owed, 'settled')],
      ...memoRows(owed),
      refundRow(owed, { paid_at: '2026-07-15T19:29:59Z' }),
    ],
    allows: [givenBack({})],
  },
  {
    title: 'nothing is given back on a draft',
    guard: 'refund_of_issued_invoice',
    sqlState: check,
    breaks: [refundRow(closed)],
    allows: [givenBack({})],
  },
  ...[
    { what: 'when nothing is overpaid', rows: [...paid, refundRow(owed, { amount_cents: 1 })] },
    { what: 'more than was overpaid', rows: givenBack({ amount_cents: 541 }) },
    {
      what: 'in two steps',
      rows: [...givenBack({}), refundRow(owed, { id: id(1_299), amount_cents: 1 })],
    },
  ].map(({ what, rows }) => ({
    title: `no more is given back than was overpaid: ${what}`,
    guard: 'refund_counts',
    says: 'refund_within_overpaid',
    sqlState: check,
    breaks: [...rows, bumped],
    allows: [givenBack({}), [...givenBack({ amount_cents: 539 }), bumped]],
  })),

  // ------------------------------------------------------------ settled
  ...[
    { table: 'payment', rows: [payment({ amount_cents: 10_800 })] },
    { table: 'payment_void', rows: [...paid, ...committed, voidRow()] },
    { table: 'credit_memo', rows: [...paid, ...committed, ...memoRows(owed)] },
    {
      table: 'refund',
      rows: [...paid, ...memoRows(owed), bumped, ...committed, refundRow(owed)],
    },
    { table: 'invoice_state', rows: [invoiceIs(owed, 'settled')] },
  ].map(({ table, rows }) => ({
    title: `an invoice is settled exactly while nothing is owed either way: ${table}`,
    guard: `${table}_settles`,
    says: 'invoice_settled_at_zero',
    sqlState: check,
    breaks: rows,
    allows: [paid, [payment()], [payment(), bumped], givenBack({})],
  })),

  // ------------------------------------------------------------ credits
  ...[{ kind: 'present' }, { kind: '' }].map((change) => ({
    title: `a credit is of a kind we know: not ${JSON.stringify(change)}`,
    guard: 'credit_memo_kind_known',
    sqlState: check,
    breaks: memoRows(owed, change),
    allows: ['correction', 'work_not_done', 'did_not_cure', 'yes_cancelled', 'goodwill'].map(
      (kind) => memoRows(owed, { kind }),
    ),
  })),
  {
    title: 'why a credit is given is said',
    guard: 'credit_memo_reason_given',
    sqlState: check,
    breaks: memoRows(owed, { reason: ' ' }),
    allows: [memoRows(owed)],
  },
  {
    title: 'a credit gives something',
    guard: 'credit_memo_gives_something',
    sqlState: check,
    breaks: memoRows(owed, {}, []),
    allows: [memoRows(owed)],
  },
  {
    title: 'a credit is hashed as it is written',
    guard: 'credit_memo_hash_is_of_paper',
    sqlState: check,
    breaks: memoRows(owed, { content_hash: sha256Of('another paper') }),
    allows: [memoRows(owed)],
  },
  {
    title: 'whoever gave a credit is a member of staff',
    guard: 'credit_memo_issued_by_fkey',
    sqlState: foreignKey,
    breaks: memoRows(owed, { issued_by_id: ids.nobody }),
    allows: [memoRows(owed)],
  },
  {
    title: 'somebody gave a credit, or a yes was taken back',
    guard: 'credit_memo_issued_by_somebody',
    sqlState: check,
    breaks: memoRows(owed, { issued_by_id: null }),
    allows: [memoRows(owed), memoRows(owed, { issued_by_id: null, kind: 'yes_cancelled' })],
  },
  ...[3, 0, -1].map((number) => ({
    title: `the credit after number one is number two, not ${number}`,
    guard: 'credit_memo_number_without_gap',
    sqlState: check,
    breaks: memoRows(owed, { number }),
    allows: [memoRows(owed), [...memoRows(owed), ...secondMemo()]],
  })),
  {
    title: 'no two credits have one number',
    guard: 'credit_memo_number_key',
    behind: ['credit_memo_number_without_gap'],
    sqlState: unique,
    breaks: memoRows(owed, { number: 1 }),
    allows: [memoRows(owed)],
  },
  {
    title: 'nothing is credited on a draft',
    guard: 'credit_memo_of_issued_invoice',
    behind: ['credit_memo_adds_up'],
    sqlState: check,
    breaks: memoRows(closed),
    allows: [memoRows(owed)],
  },
  {
    title: 'no more is credited than was billed',
    guard: 'credit_memo_counts',
    says: 'credit_memo_within_invoice',
    sqlState: check,
    breaks: memoRows(owed, {}, whole(801)),
    allows: [[...memoRows(owed, {}, whole(800)), invoiceIs(owed, 'settled')]],
    secondLine: { sqlState: check, constraint: 'credit_memo_within_line' },
  },
  ...[{ line_count: 3 }, { total_cents: 541 }, { tax_cents: 39 }].map((says) => ({
    title: `a credit says the sum of its lines and of their tax to the cent: not ${JSON.stringify(says)}`,
    guard: 'credit_memo_adds_up',
    sqlState: check,
    breaks: memoRows(owed, says),
    allows: [memoRows(owed)],
  })),
  ...[0, 3].map((position) => ({
    title: `no line is slipped into a credit that was given: not as number ${position}`,
    guard: 'credit_memo_line_in_its_place',
    sqlState: check,
    breaks: [memoLineRow({ memo_id: settled.memo, position })],
    allows: [memoRows(owed)],
  })),
  ...[0, -100].map((amount_cents) => ({
    title: `a line of a credit gives something: not ${amount_cents}`,
    guard: 'credit_memo_line_positive',
    sqlState: check,
    breaks: memoRows(owed, {}, [
      ...creditedLabor,
      { key: 'part', price_class: 'part', amount_cents },
    ]),
    allows: [memoRows(owed, {}, [...creditedLabor, creditedPart])],
  })),
  {
    title: 'a credit names a line once',
    guard: 'credit_memo_line_key_key',
    sqlState: unique,
    breaks: memoRows(owed, {}, [creditedPart, creditedPart]),
    allows: [memoRows(owed, {}, [creditedPart])],
  },
  ...[
    { what: 'in one credit', rows: memoRows(owed, {}, [{ key: 'labor', amount_cents: 4_001 }]) },
    {
      what: 'in two credits',
      rows: [
        ...memoRows(owed, {}, [{ key: 'labor', amount_cents: 4_000 }]),
        ...secondMemo([{ key: 'labor', amount_cents: 1 }]),
      ],
    },
    {
      what: 'of a part that was free',
      rows: memoRows(owed, {}, [{ key: 'free', price_class: 'part', amount_cents: 1 }]),
    },
    {
      what: 'of a line that is not there',
      rows: memoRows(owed, {}, [{ ...labor, key: 'labour' }]),
    },
    {
      what: 'of a document that is not there',
      rows: memoRows(owed, {}, [{ ...labor, document: 2 }]),
    },
    { what: 'under another class', rows: memoRows(owed, {}, [{ ...labor, price_class: 'part' }]) },
    {
      what: 'of the tax',
      rows: memoRows(owed, {}, [{ key: 'tax', price_class: 'tax', amount_cents: 801 }]),
    },
    {
      what: 'of the tax under another name',
      rows: memoRows(owed, {}, [
        { key: 'tax', price_class: 'tax', amount_cents: 800 },
        { key: 'other tax', price_class: 'tax', amount_cents: 1 },
      ]),
    },
    {
      what: 'of work that was taken off already',
      rows: [...billedLess(), ...memoRows(less, {}, [{ key: 'labor', amount_cents: 1 }])],
    },
    {
      what: 'of the tax that is left after work was taken off',
      rows: [
        ...billedLess(),
        ...memoRows(less, {}, [{ key: 'tax', price_class: 'tax', amount_cents: 481 }]),
      ],
    },
    {
      what: 'of what a discount has lowered already',
      rows: [...discounted(), ...memoRows(cheap, {}, [{ key: 'labor', amount_cents: 9_001 }])],
    },
  ].map(({ what, rows }) => ({
    title: `no more of a line is credited than was charged for it: ${what}`,
    guard: 'credit_memo_adds_up',
    says: 'credit_memo_within_line',
    sqlState: check,
    breaks: rows,
    allows: [
      memoRows(owed, {}, [{ key: 'labor', amount_cents: 4_000 }]),
      [
        ...memoRows(owed, {}, [{ key: 'labor', amount_cents: 3_999 }]),
        ...secondMemo([{ key: 'labor', amount_cents: 1 }]),
      ],
      memoRows(owed, {}, [{ key: 'tax', price_class: 'tax', amount_cents: 800 }]),
      [...billedLess(), ...memoRows(less, {}, [{ ...creditedPart, amount_cents: 6_000 }])],
      [
        ...billedLess(),
        ...memoRows(less, {}, [{ key: 'tax', price_class: 'tax', amount_cents: 480 }]),
      ],
      [...discounted(), ...memoRows(cheap, {}, [{ key: 'labor', amount_cents: 8_999 }])],
    ],
  })),
];

function givenBack(change: Row): Statement[] {
  return [...paid, ...memoRows(owed), refundRow(owed, change)];
}

function secondMemo(lines: Row[] = creditedLabor): Statement[] {
  return memoRows(owed, { id: id(1_297), number: 3 }, lines);
}

function whole(tax: number): Row[] {
  return [
    { ...creditedPart, amount_cents: 6_000 },
    { key: 'labor', amount_cents: 4_000 },
    { key: 'tax', price_class: 'tax', amount_cents: tax },
  ];
}

/** The agreed job, worked without its labor, and billed so. */
function billedLess(): Statement[] {
  return [
    ...closedWith(less, { outcome: 'not_done' }),
    ...billedRows(less, [acceptedDocument(less), undoneDocument(less)]),
  ];
}

function discounted(): Statement[] {
  const lines: Row[] = [
    { key: 'labor', kind: 'labor', amount_cents: 10_000, finding_ids: [cheap.labor] },
    { key: 'more', kind: 'labor', amount_cents: 2_000, finding_ids: [cheap.labor] },
    {
      ...{ key: 'off', kind: 'discount', amount_cents: -1_000 },
      ...{ aimed_at: 'labor', finding_ids: [] },
    },
  ];
  return [
    ...agreedRows(cheap, {}, lines),
    outcomeRow(cheap),
    ...closedRows(cheap),
    ...invoiceRows(cheap),
    ...billedRows(cheap, [acceptedDocument(cheap, billedLines(lines))]),
  ];
}
