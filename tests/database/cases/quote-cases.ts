import { check, foreignKey, type GuardCase } from '../guard-case.ts';
import {
  draftRows,
  lineRow,
  type OptionDraft,
  optionId,
  optionRows,
  quoteRow,
  revisionRows,
} from '../quote-rows.ts';
import { findingOverrideRow, ids, type Row, type Statement } from '../rows.ts';
import { quotes } from '../stock.ts';
import { signed } from './record-cases.ts';

const number = 310;

const labor: Row = { key: 'labor', kind: 'labor', amount_cents: 10_000 };
const part: Row = {
  key: 'part',
  kind: 'part',
  amount_cents: 10_000,
  quantity: 1,
  unit_price_cents: 10_000,
};
const off: Row = {
  key: 'off',
  kind: 'discount',
  amount_cents: -1_000,
  aimed_at: 'labor',
  finding_ids: [],
};
const byHand: Row = { ...off, key: 'by-hand', kind: 'adjustment', amount_cents: 500 };

/** Guards of what a quote says: its lines, its sums, the evidence under them. */
export const quoteCases: GuardCase[] = [
  {
    title: 'a line is of a kind we know',
    guard: 'quote_line_kind_known',
    sqlState: check,
    breaks: ofLines(labor, { ...part, kind: 'gift' }),
    allows: [ofLines(labor, part)],
  },
  {
    title: 'a line is of a price class we know',
    guard: 'quote_line_class_known',
    sqlState: check,
    breaks: ofLines({ ...labor, price_class: 'goodwill' }),
    allows: [ofLines({ ...labor, price_class: 'access' })],
  },
  ...(['part', 'labor', 'access'] as const).map((kind) => ({
    title: `a charge for ${kind} names the finding it rests on; the visit fee rests on its yes`,
    guard: 'quote_line_names_its_findings',
    sqlState: check,
    breaks: ofLines({ ...part, kind, finding_ids: [] }),
    allows: [
      ofLines({ ...part, kind }),
      ofLines({ ...labor, kind: 'visit_fee', price_class: 'visit_fee', finding_ids: [] }),
    ],
  })),
  ...[
    { quantity: 2 },
    { quantity: null },
    { unit_price_cents: null },
    { unit_price_cents: 9_999 },
    { quantity: -1, unit_price_cents: -10_000 },
  ].map((change) => ({
    title: `a part’s amount is quantity times unit price: not with ${JSON.stringify(change)}`,
    guard: 'quote_line_part_multiplies',
    sqlState: check,
    breaks: ofLines({ ...part, ...change }),
    allows: [
      ofLines({ ...part, quantity: 3, unit_price_cents: 1_111, amount_cents: 3_333 }),
      ofLines({ ...part, unit_price_cents: 0, amount_cents: 0 }),
    ],
  })),
  ...[
    [labor, { ...off, amount_cents: 1 }],
    [labor, { ...off, kind: 'credit', amount_cents: 1 }],
    [labor, { ...part, amount_cents: -100, unit_price_cents: -100 }],
    [labor, { ...labor, key: 'second', amount_cents: -1 }],
  ].map((lines) => ({
    title: `charges add and discounts and credits subtract: not ${lines[1]?.['kind']} ${lines[1]?.['amount_cents']}`,
    guard: 'quote_line_sign',
    sqlState: check,
    breaks: ofLines(...lines),
    allows: [
      ofLines(labor, off),
      ofLines(labor, byHand),
      ofLines(labor, { ...byHand, amount_cents: -1 }),
    ],
  })),
  ...[
    { what: 'discount', line: { ...off, aimed_at: null } },
    { what: 'adjustment', line: { ...byHand, aimed_at: null } },
    { what: 'part', line: { ...part, aimed_at: 'labor' } },
  ].map(({ what, line }) => ({
    title: `discounts, credits and adjustments are aimed, charges are not: not this ${what}`,
    guard: 'quote_line_aim_given',
    sqlState: check,
    breaks: ofLines(labor, line),
    allows: [ofLines(labor, off, byHand)],
  })),
  {
    title: 'an adjustment is aimed at a line of its own option; the line may come after it',
    guard: 'quote_line_aim_within_option',
    sqlState: foreignKey,
    breaks: draftRows({
      number,
      options: [{ lines: [labor] }, { lines: [part, byHand] }],
    }),
    allows: [ofLines(byHand, labor)],
  },
  {
    title: 'an option has a line',
    guard: 'quote_option_has_lines',
    sqlState: check,
    breaks: ofLines(),
    allows: [ofLines({ ...labor, amount_cents: 0 })],
  },
  {
    title: 'an option never totals less than nothing; zero is fine',
    guard: 'quote_option_has_lines',
    sqlState: check,
    breaks: ofLines(labor, { ...off, amount_cents: -10_001 }),
    allows: [ofLines(labor, { ...off, amount_cents: -10_000 })],
  },
  ...[0, 4].map((count) => ({
    title: `a revision has one to three options, not ${count}`,
    guard: 'quote_revision_one_to_three_options',
    sqlState: check,
    breaks: draftRows({ number, options: Array.from({ length: count }, () => ({})) }),
    allows: [draftRows({ number }), draftRows({ number, options: [{}, {}, {}] })],
  })),
  {
    title: 'revisions count from one',
    guard: 'quote_revision_number_positive',
    sqlState: check,
    breaks: draftRows({ number, revision: 0 }),
    allows: [draftRows({ number, revision: 1 })],
  },
  {
    title: 'a quote for a visit is of that visit’s ticket',
    guard: 'quote_of_the_visits_ticket',
    sqlState: foreignKey,
    breaks: draftRows({ number, quote: { ticket_id: ids.otherTicket } }),
    allows: [draftRows({ number })],
  },
  signed('quote_created_by_fkey', (quote) => quoteRow({ number, quote }), 'created_by_id'),
  {
    title: 'whoever made a revision is a member of staff',
    guard: 'quote_revision_created_by_fkey',
    sqlState: foreignKey,
    breaks: draftRows({ number, says: { created_by_id: ids.nobody } }),
    allows: [draftRows({ number, says: { created_by_id: ids.owner } })],
  },

  // ------------------------------------------------------------ sums
  {
    title: 'an option that says more lines than it has is refused at commit',
    guard: 'quote_option_adds_up',
    says: 'quote_option_line_count',
    sqlState: check,
    breaks: ofOption({ says: { line_count: 1 }, lines: [] }),
    allows: [ofOption({ lines: [labor] })],
  },
  ...[
    { total_cents: 10_801 },
    { total_cents: 10_799 },
    { tax_cents: 799 },
    { total_cents: 10_801, tax_cents: 801 },
  ].map((says) => ({
    title: `an option says the sum of its lines and of its tax to the cent: not ${JSON.stringify(says)}`,
    guard: 'quote_option_adds_up',
    together: ['quote_line_adds_up'],
    sqlState: check,
    breaks: ofOption({ says }),
    allows: [ofOption({})],
  })),
  ...[
    { title: 'priced', line: { ...labor, position: 3 } },
    { title: 'free', line: { ...labor, position: 3, amount_cents: 0 } },
  ].flatMap(({ title, line }) =>
    (['issued', 'accepted', 'draft'] as const).map((state) => ({
      title: `a ${title} line cannot be slipped into an option of a quote that is ${state}`,
      guard: 'quote_line_adds_up',
      says: 'quote_option_line_count',
      sqlState: check,
      breaks: [lineRow({ option_id: optionId(quotes[state]), ...line })],
      allows: [ofOption({})],
    })),
  ),
  {
    title: 'a revision that says more options than it has is refused at commit',
    guard: 'quote_revision_option_count',
    sqlState: check,
    breaks: draftRows({ number, says: { option_count: 2 }, options: [] }),
    allows: [draftRows({ number, options: [{}, {}] })],
  },
  {
    title: 'an option cannot be slipped into a revision that was issued',
    guard: 'quote_option_counted',
    says: 'quote_revision_option_count',
    sqlState: check,
    breaks: optionRows({ number: quotes.issued }, {}, 2),
    allows: [revisionRows({ number: quotes.issued, revision: 3, options: [{}, {}] })],
  },

  // ------------------------------------------------------------ no price without evidence
  ...(['part', 'labor', 'access'] as const).map((kind) => ({
    title: `no ${kind} is charged on a finding the evidence does not carry; the owner’s recorded reason carries it, and free of charge it may be listed`,
    guard: 'quote_line_evidence',
    says: 'quote_line_needs_evidence',
    sqlState: check,
    breaks: ofLines({ ...part, kind, finding_ids: [ids.unproven] }),
    allows: [
      ofLines({ ...part, kind, finding_ids: [ids.overridden] }),
      ofLines({ ...part, kind, finding_ids: [ids.unproven], amount_cents: 0, unit_price_cents: 0 }),
      [findingOverrideRow(), ...ofLines({ ...part, kind, finding_ids: [ids.unproven] })],
    ],
  })),
  {
    title: 'an access line shared by several findings needs evidence for each of them',
    guard: 'quote_line_evidence',
    says: 'quote_line_needs_evidence',
    sqlState: check,
    breaks: ofLines({ ...labor, kind: 'access', finding_ids: [ids.proven, ids.unproven] }),
    allows: [ofLines({ ...labor, kind: 'access', finding_ids: [ids.proven, ids.overridden] })],
  },
  {
    title: 'a free line on an unproven finding is not raised by an adjustment; a proven one is',
    guard: 'quote_line_evidence',
    says: 'quote_line_needs_evidence',
    sqlState: check,
    breaks: ofLines({ ...labor, amount_cents: 0, finding_ids: [ids.unproven] }, byHand),
    allows: [
      ofLines(labor, byHand),
      ofLines(
        { ...labor, amount_cents: 0, finding_ids: [ids.unproven] },
        { ...byHand, amount_cents: 0 },
      ),
    ],
  },
  {
    title: 'a line cannot rest on a finding of another visit, proven as it may be',
    guard: 'quote_line_evidence',
    says: 'quote_line_finding_of_this_visit',
    sqlState: check,
    breaks: ofLines({ ...labor, finding_ids: [ids.ofOtherVisit] }),
    allows: [
      draftRows({
        number,
        quote: { visit_id: ids.otherVisit, ticket_id: ids.otherTicket },
        options: [{ lines: [{ ...labor, finding_ids: [ids.ofOtherVisit] }] }],
      }),
    ],
  },
  {
    title: 'a line cannot rest on a finding that does not exist',
    guard: 'quote_line_evidence',
    says: 'quote_line_finding_of_this_visit',
    sqlState: check,
    breaks: ofLines({ ...labor, finding_ids: [ids.proven, ids.nobody] }),
    allows: [ofLines({ ...labor, finding_ids: [ids.proven] })],
  },
  ...(['labor', 'access'] as const).map((kind) => ({
    title: `no ${kind} is charged for a reset; its materials are, and its time may be listed free`,
    guard: 'quote_line_evidence',
    says: 'quote_line_reset_without_labor',
    sqlState: check,
    breaks: ofLines({ ...labor, kind, finding_ids: [ids.reset] }),
    allows: [
      ofLines({ ...labor, kind, finding_ids: [ids.reset], amount_cents: 0 }),
      ofLines({ ...part, finding_ids: [ids.reset] }),
    ],
  })),
  {
    title: 'the free labor of a reset is not raised by an adjustment; its part is',
    guard: 'quote_line_evidence',
    says: 'quote_line_reset_without_labor',
    sqlState: check,
    breaks: ofLines({ ...labor, amount_cents: 0, finding_ids: [ids.reset] }, byHand),
    allows: [ofLines({ ...part, finding_ids: [ids.reset] }, { ...byHand, aimed_at: 'part' })],
  },
];

function ofLines(...lines: Row[]): Statement[] {
  return ofOption({ lines });
}

function ofOption(option: OptionDraft): Statement[] {
  return draftRows({ number, options: [option] });
}
