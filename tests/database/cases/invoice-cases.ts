import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  acceptedDocument,
  agreedLines,
  agreedRows,
  billedLines,
  billedRows,
  cancellationRow,
  changeOrder,
  closedRows,
  closedWith,
  type DocumentDraft,
  documentRowOf,
  documentRows,
  doneRows,
  feeDocument,
  feeLines,
  invoiceIs,
  invoiceLineRow,
  invoiceRows,
  issueInvoiceRow,
  type Job,
  jobOf,
  jobs,
  outcomeRow,
  partUseRow,
  undoneDocument,
  undoneLabor,
  visitedRows,
} from '../life-rows.ts';
import { accepted, issued, optionId } from '../quote-rows.ts';
import { id, ids, insert, type Row, type Statement, sha256Of, sql } from '../rows.ts';

const now = '2026-07-15T19:30:00Z';
const { closed, owed, settled } = jobs;
/** A job that is not in the stock. */
const other = jobOf(313);

const unusedPart: Row = { key: 'undone:part', kind: 'part', amount_cents: -3_000 };

/** Guards of what is billed. */
export const invoiceCases: GuardCase[] = [
  // ------------------------------------------------------------ drafts
  {
    title: 'an invoice is of the ticket that was closed',
    guard: 'invoice_of_the_closings_ticket',
    sqlState: check,
    breaks: [...ready(), ...invoiceRows(other, { ticket_id: closed.ticket })],
    allows: [[...ready(), ...invoiceRows(other)]],
  },
  {
    title: 'a closing has one invoice',
    guard: 'invoice_closing_key',
    sqlState: unique,
    breaks: invoiceRows(closed, { id: id(1_299) }),
    allows: [[...ready(), ...invoiceRows(other)]],
  },
  {
    title: 'whoever opened an invoice is a member of staff',
    guard: 'invoice_created_by_fkey',
    sqlState: foreignKey,
    breaks: [...ready(), ...invoiceRows(other, { created_by_id: ids.nobody })],
    allows: [[...ready(), ...invoiceRows(other)]],
  },
  {
    title: 'an invoice begins as a draft',
    guard: 'invoice_state_moves',
    sqlState: check,
    breaks: [
      ...[...ready(), ...invoiceRows(other).slice(0, 1)],
      insert('invoice_state', { invoice_id: other.invoice, state: 'issued', changed_at: now }),
    ],
    allows: [[...ready(), ...invoiceRows(other)]],
  },
  {
    title: 'the state of an invoice is never deleted',
    guard: 'invoice_state_moves',
    sqlState: check,
    breaks: [sql('DELETE FROM invoice_state WHERE invoice_id = $1', [closed.invoice])],
    allows: [billedRows(closed)],
  },
  {
    title: 'an issued invoice never is a draft again',
    guard: 'invoice_state_moves',
    behind: ['invoice_issue_takes_effect'],
    sqlState: check,
    breaks: [invoiceIs(owed, 'draft')],
    allows: [[invoiceIs(owed, 'issued')]],
  },
  {
    title: 'each step of an invoice counts its version up by one',
    guard: 'invoice_state_moves',
    sqlState: check,
    breaks: [
      sql(`UPDATE invoice_state SET changed_at = now() WHERE invoice_id = $1`, [owed.invoice]),
    ],
    allows: [[invoiceIs(owed, 'issued')]],
  },
  ...['issued', 'settled'].map((state) => ({
    title: `no invoice is ${state} without its paper`,
    guard: 'invoice_state_moves',
    says: 'invoice_state_needs_issue',
    sqlState: check,
    breaks: [invoiceIs(closed, state)],
    allows: [billedRows(closed)],
  })),

  // ------------------------------------------------------------ issue
  {
    title: 'an invoice is issued once',
    guard: 'invoice_issue_while_draft',
    sqlState: check,
    breaks: [issueInvoiceRow(owed, [])],
    allows: [billedRows(closed)],
    secondLine: { sqlState: unique, constraint: 'invoice_issue_pkey' },
  },
  {
    title: 'an invoice is not due before the day it is issued on, by the company’s calendar',
    guard: 'invoice_issue_due_once_issued',
    sqlState: check,
    breaks: billedRows(closed, undefined, { due_on: '2026-07-14' }),
    allows: [billedRows(closed)],
  },
  {
    title: 'an invoice on record is issued by commit',
    guard: 'invoice_issue_takes_effect',
    sqlState: check,
    breaks: billedRows(closed).slice(0, -1),
    allows: [billedRows(closed)],
  },
  ...[4, 2, 0, -1, 2_147_483_647].map((number) => ({
    title: `the invoice after number two is number three, not ${number}`,
    guard: 'invoice_issue_number_without_gap',
    behind: ['invoice_issue_number_key'],
    sqlState: check,
    breaks: billedRows(closed, undefined, { number }),
    allows: [
      billedRows(closed),
      [...billedRows(closed), ...closedWith(other), ...billedRows(other, undefined, { number: 4 })],
    ],
  })),
  {
    title: 'no two invoices have one number',
    guard: 'invoice_issue_number_key',
    behind: ['invoice_issue_number_without_gap'],
    sqlState: unique,
    breaks: billedRows(closed, undefined, { number: 2 }),
    allows: [billedRows(closed)],
  },
  {
    title: 'an invoice is hashed as it is written',
    guard: 'invoice_issue_hash_is_of_paper',
    sqlState: check,
    breaks: billedRows(closed, undefined, { content_hash: sha256Of('another paper') }),
    allows: [billedRows(closed)],
  },
  ...[{ total_cents: -1 }, { tax_cents: -1 }].map((says) => ({
    title: `nobody is billed less than nothing: not ${JSON.stringify(says)}`,
    guard: 'invoice_issue_not_negative',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: billedRows(closed, undefined, says),
    allows: [billedRows(closed), billedRows(closed, [])],
  })),
  {
    title: 'an invoice has no less than no documents',
    guard: 'invoice_issue_has_documents',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: billedRows(closed, [], { document_count: -1 }),
    allows: [billedRows(closed, [])],
  },
  {
    title: 'whoever issued an invoice is a member of staff',
    guard: 'invoice_issue_issued_by_fkey',
    sqlState: foreignKey,
    breaks: billedRows(closed, undefined, { issued_by_id: ids.nobody }),
    allows: [billedRows(closed)],
  },

  // ------------------------------------------------------------ sums
  ...[{ document_count: 2 }, { total_cents: 10_801 }, { tax_cents: 799 }].map((says) => ({
    title: `an invoice says the sum of its documents and of their tax to the cent: not ${JSON.stringify(says)}`,
    guard: 'invoice_adds_up',
    sqlState: check,
    breaks: billedRows(closed, undefined, says),
    allows: [billedRows(closed)],
  })),
  ...[{ line_count: 5 }, { tax_cents: 799 }].map((says) => ({
    title: `a document says the sum of its lines and of their tax to the cent: not ${JSON.stringify(says)}`,
    guard: 'invoice_adds_up',
    says: says.tax_cents === undefined ? 'invoice_document_adds_up' : 'invoice_adds_up',
    sqlState: check,
    breaks: billedRows(closed, [saying(acceptedDocument(closed), says)]),
    allows: [billedRows(closed)],
  })),
  {
    title: 'a document says its own sum, though the invoice says the same',
    guard: 'invoice_adds_up',
    says: 'invoice_document_adds_up',
    sqlState: check,
    breaks: withFee({ total_cents: 8_901 }, { total_cents: 8_901 }),
    allows: [withFee()],
  },
  ...[0, 2].map((position) => ({
    title: `no document is slipped into an invoice that was issued: not as number ${position}`,
    guard: 'invoice_document_in_its_place',
    sqlState: check,
    breaks: [documentRowOf(owed, feeDocument(ids.visit, []), position)],
    allows: [billedRows(closed)],
  })),
  {
    title: 'no documents without their invoice',
    guard: 'invoice_document_in_its_place',
    sqlState: check,
    breaks: documentRows(closed, [acceptedDocument(closed)]),
    allows: [billedRows(closed)],
  },
  ...[0, 5].map((position) => ({
    title: `no line is slipped into an invoice that was issued: not as number ${position}`,
    guard: 'invoice_line_in_its_place',
    sqlState: check,
    breaks: [invoiceLineRow(owed, { position, amount_cents: position })],
    allows: [billedRows(closed)],
  })),
  {
    title: 'a document has a line of one name once',
    guard: 'invoice_line_key_key',
    sqlState: unique,
    breaks: withFee({}, {}, [], [...fee(4_450), ...fee(4_450)]),
    allows: [withFee({}, {}, [], [...fee(4_450), { ...fee(4_450)[0], key: 'rest' }])],
  },
  {
    title: 'a line is of a document that is there',
    guard: 'invoice_line_invoice_id_document_fkey',
    behind: ['invoice_line_in_its_place'],
    sqlState: foreignKey,
    breaks: [invoiceLineRow(owed, { document: 9, position: 1 })],
    allows: [billedRows(closed)],
  },
  ...[{ kind: 'labor' }, { price_class: 'labor' }].map((change) => ({
    title: `a tax is a tax in every respect: not ${JSON.stringify(change)}`,
    guard: 'invoice_line_tax_is_tax',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: billedRows(closed, [acceptedDocument(closed, changed('tax', change))]),
    allows: [billedRows(closed)],
  })),

  // ------------------------------------------------------------ what is billed
  ...[
    { kind: 'present' },
    { quote_id: null },
    { option_id: null },
    { visit_id: ids.visit },
    { undone_quote_id: owed.quote },
    { inputs: '{}' },
  ].map((says) => ({
    title: `what was accepted is billed by its quote and option: not ${JSON.stringify(says)}`,
    guard: 'invoice_document_whole',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: billedRows(closed, [saying(acceptedDocument(closed), says)]),
    allows: [billedRows(closed)],
  })),
  ...[{ visit_id: null }, { inputs: null }, { undone_quote_id: closed.quote }].map((says) => ({
    title: `a fee is billed by its trip and what it was computed from: not ${JSON.stringify(says)}`,
    guard: 'invoice_document_whole',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: withFee(says),
    allows: [withFee()],
  })),
  ...[{ undone_quote_id: null }, { visit_id: ids.visit }, { inputs: '{}' }].map((says) => ({
    title: `work not done is taken off a quote and no more is said: not ${JSON.stringify(says)}`,
    guard: 'invoice_document_whole',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: less([saying(undoneDocument(other), says)]),
    allows: [less([undoneDocument(other)])],
  })),
  {
    title: 'work not done takes off and does not add',
    guard: 'invoice_document_whole',
    behind: ['invoice_adds_up'],
    sqlState: check,
    breaks: less([undoneDocument(other, [{ ...undoneLabor[0], amount_cents: 1 }])]),
    allows: [less([undoneDocument(other)])],
  },
  {
    title: 'a yes is billed once',
    guard: 'invoice_document_quote_once',
    behind: ['invoice_adds_up'],
    sqlState: unique,
    breaks: billedRows(closed, [acceptedDocument(closed), acceptedDocument(closed)]),
    allows: [billedRows(closed)],
  },
  {
    title: 'the fee of a trip is billed by itself once',
    guard: 'invoice_document_fee_once',
    behind: ['invoice_adds_up'],
    sqlState: unique,
    breaks: withFee({}, {}, [feeDocument(other.visit)]),
    allows: [withFee()],
  },
  {
    title: 'work not done is taken off once',
    guard: 'invoice_document_undone_once',
    behind: ['invoice_adds_up'],
    sqlState: unique,
    breaks: less([undoneDocument(other), undoneDocument(other)]),
    allows: [less([undoneDocument(other)])],
  },
  {
    title: 'what is billed is the total that was accepted',
    guard: 'invoice_document_accepted_total',
    behind: ['invoice_adds_up', 'invoice_document_accepted_option'],
    sqlState: foreignKey,
    breaks: billedRows(closed, [
      acceptedDocument(closed, changed('labor', { amount_cents: 4_001 })),
    ]),
    allows: [billedRows(closed)],
  },
  {
    title: 'what is billed is the total of the option',
    guard: 'invoice_document_accepted_option',
    behind: ['invoice_adds_up', 'invoice_document_accepted_total'],
    sqlState: foreignKey,
    breaks: billedRows(closed, [
      acceptedDocument(closed, changed('labor', { amount_cents: 4_001 })),
    ]),
    allows: [billedRows(closed)],
  },
  {
    title: 'what is taken off was accepted',
    guard: 'invoice_document_undone_quote',
    behind: ['invoice_adds_up'],
    sqlState: foreignKey,
    breaks: less([saying(undoneDocument(other), { undone_quote_id: id(302) })]),
    allows: [less([undoneDocument(other)])],
  },
  ...[
    { what: 'the yes of another ticket', rows: billedRows(closed, [ofAnother()]), before: ready() },
    {
      what: 'another option than the accepted one',
      rows: billedRows(closed, [saying(acceptedDocument(closed), { option_id: optionId(302) })]),
      before: [],
    },
    {
      what: 'a yes that was taken back',
      rows: billedRows(closed),
      before: [cancellationRow(closed)],
    },
    {
      what: 'the fee of another ticket',
      rows: billedRows(closed, [feeDocument(other.visit)]),
      before: visitedRows(other),
    },
  ].map(({ what, rows, before }) => ({
    title: `an invoice bills its own ticket, not ${what}`,
    guard: 'invoice_adds_up',
    says: 'invoice_document_of_ticket',
    sqlState: check,
    breaks: [...before, ...rows],
    allows: [billedRows(closed), [...ready(), ...invoiceRows(other), ...billedRows(other)]],
  })),
  ...[
    changed('labor', { key: 'work' }),
    changed('labor', { kind: 'access' }),
    changed('part', { price_class: 'labor' }),
    changed('part', { description: 'Replace the compressor' }),
    changed('free', { aimed_at: 'part' }),
    moved(),
  ].map((lines, at) => ({
    title: `what was accepted is billed line for line, word for word (${at + 1})`,
    guard: 'invoice_adds_up',
    says: 'invoice_lines_as_accepted',
    sqlState: check,
    breaks: billedRows(closed, [acceptedDocument(closed, lines)]),
    allows: [billedRows(closed)],
  })),
  {
    title: 'nor with a line less, though it was free',
    guard: 'invoice_adds_up',
    says: 'invoice_lines_as_accepted',
    sqlState: check,
    breaks: billedRows(closed, [
      acceptedDocument(
        closed,
        lines(closed).filter(({ key }) => key !== 'free'),
      ),
    ]),
    allows: [billedRows(closed)],
  },
  {
    title: 'what is billed is on record as done or not done',
    guard: 'invoice_adds_up',
    says: 'invoice_work_on_record',
    sqlState: check,
    breaks: [...agreedRows(other), outcomeRow(other), ...billedNow()],
    allows: [[...agreedRows(other), ...doneRows(other), ...billedNow()]],
  },
  {
    title: 'a change order is billed beside its quote',
    guard: 'invoice_adds_up',
    says: 'invoice_work_on_record',
    sqlState: check,
    breaks: withChangeOrder([]),
    allows: [withChangeOrder([outcomeRow(other, { quote_id: id(311), finding_id: id(60_311) })])],
  },

  // ------------------------------------------------------------ work not done
  {
    title: 'work not done is not billed',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: less([]),
    allows: [less([undoneDocument(other)]), billedRows(closed)],
  },
  {
    title: 'work that was done is not taken off',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: billedRows(closed, [acceptedDocument(closed), undoneDocument(closed)]),
    allows: [billedRows(closed)],
  },
  ...[-4_001, -3_999, 0].map((amount_cents) => ({
    title: `work not done is taken off to the cent: not at ${amount_cents}`,
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: less([undoneDocument(other, [{ ...undoneLabor[0], amount_cents }])]),
    allows: [less([undoneDocument(other, undoneLabor.slice(0, 1))])],
  })),
  ...[
    { what: 'under another name', line: { ...undoneLabor[0], key: 'labor' } },
    { what: 'under another class', line: { ...undoneLabor[0], price_class: 'part' } },
  ].map(({ what, line }) => ({
    title: `what is taken off names the line it is taken off: not ${what}`,
    guard: 'invoice_adds_up',
    says:
      what === 'under another class'
        ? 'invoice_undone_within_accepted'
        : 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: less([undoneDocument(other, [line])]),
    allows: [less([undoneDocument(other)])],
  })),
  ...[-6_001, 1].map((amount_cents) => ({
    title: `goods not used come off, no more than they were sold for: not ${amount_cents}`,
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    behind: ['invoice_document_whole'],
    breaks: unused([{ ...unusedPart, amount_cents }]),
    allows: [unused([unusedPart]), unused([{ ...unusedPart, amount_cents: -6_000 }])],
  })),
  {
    title: 'goods that all went in do not come off',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: unused([unusedPart], 2),
    allows: [unused([unusedPart], 1)],
  },
  ...[-1, 2_001].map((amount_cents) => ({
    title: `the credit of the fee is cut, no further than it goes, and never raised: not ${amount_cents}`,
    guard: 'invoice_adds_up',
    says: 'invoice_undone_as_accepted',
    sqlState: check,
    breaks: creditCut(amount_cents),
    allows: [creditCut(2_000), creditCut(1)],
  })),
  {
    title: 'nothing is taken off that no line is behind',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_within_accepted',
    sqlState: check,
    breaks: less([
      undoneDocument(other, [
        ...undoneLabor,
        { key: 'present', kind: 'discount', price_class: 'part', amount_cents: -1 },
      ]),
    ]),
    allows: [less([undoneDocument(other)])],
  },
  {
    title: 'no more tax is taken off than there was',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_within_accepted',
    sqlState: check,
    behind: ['invoice_issue_not_negative'],
    breaks: less([undoneDocument(other, withTax(-801))]),
    allows: [less([undoneDocument(other, withTax(-800))])],
  },
  {
    title: 'work not done is taken off where it was billed, not on an invoice without it',
    guard: 'invoice_adds_up',
    says: 'invoice_undone_within_accepted',
    sqlState: check,
    breaks: [
      ...closedWith(other),
      ...billedRows(other, [
        feeDocument(other.visit),
        undoneDocument(settled, [{ ...undoneLabor[0], amount_cents: -1 }]),
      ]),
    ],
    allows: [[...closedWith(other), ...billedRows(other, [feeDocument(other.visit)])]],
  },

  // ------------------------------------------------------------ fees
  ...[
    { what: 'a cent more than was told', lines: fee(8_901), visit: {} },
    {
      what: 'work beside it',
      lines: [...feeLines, { key: 'labor', kind: 'labor', amount_cents: 1 }],
      visit: {},
    },
    { what: 'more tax than fee', lines: [...feeLines, tax(8_901)], visit: {} },
    { what: 'a trip nobody came in from', lines: feeLines, visit: { state: 'no_access' } },
    { what: 'coming back', lines: fee(0), visit: { purpose: 'return', fee_cents: 0 } },
    { what: 'a callback', lines: fee(0), visit: { purpose: 'callback', fee_cents: 0 } },
  ].map(({ what, lines: billed, visit }) => ({
    title: `a trip is billed as it was told: not ${what}`,
    guard: 'invoice_adds_up',
    says: 'invoice_fee_as_told',
    sqlState: check,
    breaks: withFee({}, {}, [], billed, visit),
    allows: [
      withFee(),
      withFee({}, {}, [], [...feeLines, tax(734)]),
      withFee({}, {}, [], [...feeLines, { ...fee(-900)[0], key: 'off', kind: 'discount' }]),
    ],
  })),
  {
    title: 'the fee of a trip is not billed beside the yes that came of it',
    guard: 'invoice_adds_up',
    says: 'invoice_fee_once',
    sqlState: check,
    breaks: billedRows(closed, [acceptedDocument(closed), feeDocument(closed.visit)]),
    allows: [billedRows(closed), billedRows(closed, [feeDocument(closed.visit)])],
  },
  {
    title: 'a fee in a yes and one in its change order are together no more than was told',
    guard: 'invoice_adds_up',
    says: 'invoice_fee_once',
    sqlState: check,
    breaks: feeInBoth(8_900),
    allows: [feeInBoth(0)],
  },
];

function lines(job: Job): Row[] {
  return billedLines(agreedLines(job));
}

/** The lines of the closed job with one of them changed. */
function changed(key: string, change: Row): Row[] {
  return lines(closed).map((line) => (line['key'] === key ? { ...line, ...change } : line));
}

/** The same total, from other lines. */
function moved(): Row[] {
  return changed('labor', { amount_cents: 5_000 }).map((line) =>
    line['key'] === 'part' ? { ...line, amount_cents: 5_000 } : line,
  );
}

function saying(document: DocumentDraft, says: Row): DocumentDraft {
  return { ...document, says: { ...document.says, ...says } };
}

function ready(): Statement[] {
  return [...agreedRows(other), ...doneRows(other), ...closedRows(other)];
}

function ofAnother(): DocumentDraft {
  return acceptedDocument(other);
}

/** Closes and bills the other job with what is on record. */
function billedNow(): Statement[] {
  return [...closedRows(other), ...invoiceRows(other), ...billedRows(other)];
}

/** The other job without its labor, billed with documents beside the accepted one. */
function less(documents: DocumentDraft[]): Statement[] {
  return [
    ...closedWith(other, { outcome: 'not_done' }),
    ...billedRows(other, [acceptedDocument(other), ...documents]),
  ];
}

/** A job of which everything was done, with one or two of the two parts it sold, billed so. */
function unused(lines: Row[], quantity = 1): Statement[] {
  return [
    ...agreedRows(other),
    partUseRow(other, { quantity }),
    ...doneRows(other),
    ...closedRows(other),
    ...invoiceRows(other),
    ...billedRows(other, [acceptedDocument(other), undoneDocument(other, lines)]),
  ];
}

/** A job with a fee of which a part was credited, and whose labor was not done. */
function creditCut(amount_cents: number): Statement[] {
  const credit: Row = { kind: 'credit', price_class: 'visit_fee', aimed_at: 'fee' };
  const given = { ...credit, key: 'credit', amount_cents: -2_000, code: 'visit_fee_credit' };
  const visitFee: Row = { ...feeLines[0], code: 'visit_fee', finding_ids: [] };
  const lines = [...agreedLines(other), visitFee, { ...given, finding_ids: [] }];
  const cut: Row = { ...credit, key: 'undone:credit', amount_cents };
  return [
    ...agreedRows(other, {}, lines),
    ...doneRows(other, { outcome: 'not_done' }),
    ...closedRows(other),
    ...invoiceRows(other),
    ...billedRows(other, [
      acceptedDocument(other, billedLines(lines)),
      undoneDocument(other, [...undoneLabor, cut]),
    ]),
  ];
}

function withTax(amount_cents: number): Row[] {
  return undoneLabor.map((line) => (line['kind'] === 'tax' ? { ...line, amount_cents } : line));
}

function fee(amount_cents: number): Row[] {
  return [{ key: 'fee', kind: 'visit_fee', price_class: 'visit_fee', amount_cents }];
}

function tax(amount_cents: number): Row {
  return { key: 'tax', kind: 'tax', price_class: 'tax', amount_cents };
}

/** A trip that nothing came of, closed and billed. */
function withFee(
  document: Row = {},
  invoice: Row = {},
  more: DocumentDraft[] = [],
  billed: Row[] = feeLines,
  visit: Row = {},
): Statement[] {
  return [
    ...[...visitedRows(other, visit), ...closedRows(other), ...invoiceRows(other)],
    ...billedRows(other, [saying(feeDocument(other.visit, billed), document), ...more], invoice),
  ];
}

function withChangeOrder(outcomes: Statement[]): Statement[] {
  const extra: Row[] = [
    { key: 'part', kind: 'part', price_class: 'part', amount_cents: 10_000 },
    tax(800),
  ];
  return [
    ...[...agreedRows(other), ...changeOrder(other, 311), ...issued(311), ...accepted(311)],
    ...[...doneRows(other), ...outcomes, ...closedRows(other), ...invoiceRows(other)],
    ...billedRows(other, [
      acceptedDocument(other),
      { says: { quote_id: id(311), option_id: optionId(311) }, lines: extra },
    ]),
  ];
}

/** A fee in the yes and an amount under that name in a change order. */
function feeInBoth(cents: number): Statement[] {
  const line: Row = {
    ...{ key: 'fee', kind: 'visit_fee', price_class: 'visit_fee' },
    ...{ amount_cents: 8_900, finding_ids: [] },
  };
  const first = [...agreedLines(other), line];
  const second = [{ ...line, amount_cents: cents }];
  const change = jobOf(311);
  return [
    ...agreedRows(other, {}, first),
    ...changeOrderOf(second),
    ...[...doneRows(other), ...closedRows(other), ...invoiceRows(other)],
    ...billedRows(other, [
      acceptedDocument(other, billedLines(first)),
      {
        says: { quote_id: change.quote, option_id: optionId(change.number) },
        lines: billedLines(second),
      },
    ]),
  ];
}

function changeOrderOf(sold: Row[]): Statement[] {
  const total_cents = Number(sold[0]?.['amount_cents']);
  return [...changeOrder(other, 311, {}, sold), ...issued(311), ...accepted(311, { total_cents })];
}
