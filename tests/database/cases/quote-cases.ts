import { installsEquipment, taskCodeSchema, taskWords } from '../../../src/trade/index.ts';
import { check, foreignKey, type GuardCase } from '../guard-case.ts';
import { jobs } from '../life-rows.ts';
import {
  confirmationRow,
  draftRows,
  issued,
  lineRow,
  type OptionDraft,
  optionId,
  optionRows,
  quoteRow,
  revisionRows,
} from '../quote-rows.ts';
import { findingOverrideRow, findingRow, id, ids, type Row, type Statement } from '../rows.ts';
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
const good: Row = {
  key: 'good',
  kind: 'good',
  price_class: 'part',
  amount_cents: 2_875,
  measured: '2.5',
  unit: '[lb_av]',
};
const fee: Row = {
  key: 'fee',
  kind: 'visit_fee',
  price_class: 'visit_fee',
  amount_cents: 8_900,
  finding_ids: [],
};
const off: Row = {
  key: 'off',
  kind: 'discount',
  amount_cents: -1_000,
  aimed_at: 'labor',
  finding_ids: [],
};
const byHand: Row = { ...off, key: 'by-hand', kind: 'adjustment', amount_cents: 500 };

/** One charge of each kind that rests on findings. */
const charges: Row[] = [part, good, labor, { ...labor, key: 'access', kind: 'access' }];
/** What a charge that costs nothing says; only parts have a price of one. */
const free: Row = { amount_cents: 0, unit_price_cents: 0 };

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
  ...charges.map((line) => ({
    title: `a charge for ${line['kind']} names the finding it rests on; the visit fee rests on its yes`,
    guard: 'quote_line_names_its_findings',
    sqlState: check,
    breaks: ofLines({ ...line, finding_ids: [] }),
    allows: [ofLines(line), ofLines(fee)],
  })),
  ...[
    { ...good, measured: null },
    { ...good, measured: 0 },
    { ...good, measured: '-2.5' },
    { ...good, measured: 'NaN' },
    { ...good, unit: null },
    { ...good, quantity: 1 },
    { ...part, measured: '2.5' },
    { ...part, unit: '[lb_av]' },
    { ...labor, measured: '2.5', unit: '[ft_i]' },
  ].map((line) => ({
    title: `goods are measured, parts are counted, time is neither: not ${JSON.stringify(line)}`,
    guard: 'quote_line_good_is_measured',
    sqlState: check,
    breaks: ofLines(line),
    allows: [ofLines(good, part, labor), ofLines({ ...good, measured: '0.001' })],
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
  ...['kg', 'lb', ''].map((unit) => ({
    title: `goods are measured in units we know: not in "${unit}"`,
    guard: 'quote_line_unit_known',
    sqlState: check,
    breaks: ofLines({ ...good, unit }),
    allows: ['[lb_av]', '[oz_av]', '[ft_i]', '[in_i]', '[gal_us]'].map((known) =>
      ofLines({ ...good, unit: known }),
    ),
  })),
  ...[
    [labor, { ...off, amount_cents: 1 }],
    [labor, { ...off, kind: 'credit', amount_cents: 1 }],
    [labor, { ...part, amount_cents: -100, unit_price_cents: -100 }],
    [labor, { ...labor, key: 'second', amount_cents: -1 }],
    [labor, { ...good, amount_cents: -1 }],
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
    { title: 'priced', line: { ...labor, key: 'slipped', position: 9 } },
    { title: 'free', line: { ...labor, key: 'slipped', position: 9, amount_cents: 0 } },
  ].flatMap(({ title, line }) =>
    (['issued', 'accepted', 'draft'] as const).map((state) => ({
      title: `a ${title} line cannot be slipped into an option of a quote that is ${state}`,
      guard: 'quote_line_adds_up',
      says: 'quote_option_line_count',
      sqlState: check,
      breaks: [
        lineRow({
          ...{ option_id: optionId(quotes[state]), ...line },
          finding_ids: [state === 'accepted' ? jobs.agreed.labor : ids.proven],
        }),
      ],
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
  ...charges.map((line) => ({
    title: `no ${line['kind']} is charged on a finding the evidence does not carry; the owner’s recorded reason carries it, and free of charge it may be listed`,
    guard: 'quote_line_evidence',
    says: 'quote_line_needs_evidence',
    sqlState: check,
    breaks: ofLines({ ...line, finding_ids: [ids.unproven] }),
    allows: [
      ofLines({ ...line, finding_ids: [ids.overridden] }),
      ofLines({ ...line, ...free, finding_ids: [ids.unproven] }),
      [findingOverrideRow(), ...ofLines({ ...line, finding_ids: [ids.unproven] })],
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
      ofLines({ ...good, finding_ids: [ids.reset] }),
    ],
  })),
  {
    title: 'the free labor of a reset is not raised by an adjustment; that of a repair is',
    guard: 'quote_line_evidence',
    says: 'quote_line_reset_without_labor',
    sqlState: check,
    breaks: ofLines({ ...labor, amount_cents: 0, finding_ids: [ids.reset] }, byHand),
    allows: [ofLines({ ...labor, amount_cents: 0 }, byHand)],
  },

  // ------------------------------------------------------------ nobody raises these
  ...[part, good].flatMap((line) =>
    [
      { how: 'by a cent', by: [1] },
      { how: 'in the end, though one step lowers it', by: [-100, 101] },
    ].map(({ how, by }) => ({
      title: `the ${line['kind']} of a reset is not raised ${how}; that of a repair is, and a reset is let off some`,
      guard: 'quote_line_evidence',
      says: 'quote_line_reset_never_raised',
      sqlState: check,
      breaks: ofLines({ ...line, finding_ids: [ids.reset] }, ...adjusted(line, ...by)),
      allows: [
        ofLines(line, ...adjusted(line, ...by)),
        ofLines({ ...line, finding_ids: [ids.reset] }, ...adjusted(line, -1)),
        ofLines({ ...line, finding_ids: [ids.reset] }, ...adjusted(line, -100, 100)),
      ],
    })),
  ),
  {
    title: 'a part free under warranty is not raised for a reset either',
    guard: 'quote_line_evidence',
    says: 'quote_line_reset_never_raised',
    sqlState: check,
    breaks: ofLines({ ...part, ...free, finding_ids: [ids.reset] }, ...adjusted(part, 1)),
    allows: [ofLines({ ...part, ...free }, ...adjusted(part, 1))],
  },
  ...[
    { how: 'by a cent', by: [1] },
    { how: 'in the end, though one step lowers it', by: [-100, 101] },
  ].map(({ how, by }) => ({
    title: `the visit fee is not raised above what was told, ${how}; it may be lowered or waived`,
    guard: 'quote_line_evidence',
    says: 'quote_line_fee_never_raised',
    sqlState: check,
    breaks: ofLines(labor, fee, ...adjusted(fee, ...by)),
    allows: [
      ofLines(labor, fee, ...adjusted(fee, -8_900)),
      ofLines(labor, fee, ...adjusted(fee, -100, 100)),
      ofLines(labor, fee, ...adjusted(labor, ...by)),
    ],
  })),
  {
    title: 'a fee that was waived from the start is not brought back by hand',
    guard: 'quote_line_evidence',
    says: 'quote_line_fee_never_raised',
    sqlState: check,
    breaks: ofLines(labor, { ...fee, amount_cents: 0 }, ...adjusted(fee, 8_900)),
    allows: [ofLines(labor, { ...fee, amount_cents: 0 })],
  },

  {
    title: 'the visit fee on a quote is not above the one told at the call, not even in two lines',
    guard: 'quote_line_evidence',
    says: 'quote_line_fee_as_told',
    sqlState: check,
    breaks: ofLines(fee, { ...fee, key: 'fee-2', amount_cents: 1 }),
    allows: [ofLines(fee), ofLines({ ...fee, amount_cents: 0 })],
  },
  {
    title: 'the visit fee on a quote is the one told at the call or less: not a cent more',
    guard: 'quote_line_evidence',
    says: 'quote_line_fee_as_told',
    sqlState: check,
    breaks: ofLines({ ...fee, amount_cents: 8_901 }),
    allows: [ofLines(fee), ofLines({ ...fee, amount_cents: 8_899 })],
  },
  ...[
    { what: 'an adjustment', line: { ...byHand, aimed_at: 'labor', amount_cents: 0 } },
    { what: 'a discount', line: { ...off, amount_cents: -500 } },
    { what: 'a credit', line: { ...off, kind: 'credit', amount_cents: -500 } },
    { what: 'a tax', line: { key: 'off', kind: 'tax', price_class: 'tax', finding_ids: [] } },
  ].map(({ what, line }) => ({
    title: `adjustments are aimed at charges, not at ${what}: nobody would see what they raise`,
    guard: 'quote_line_evidence',
    says: 'quote_line_aims_at_a_charge',
    sqlState: check,
    breaks: ofLines(labor, { ...line, key: 'off' }, { ...byHand, aimed_at: 'off' }),
    allows: [ofLines(labor, { ...line, key: 'off' }, byHand)],
  })),
  {
    title: 'a free line on an unproven finding is not raised by way of another adjustment',
    guard: 'quote_line_evidence',
    says: 'quote_line_aims_at_a_charge',
    sqlState: check,
    breaks: ofLines(
      { ...labor, amount_cents: 0, finding_ids: [ids.unproven] },
      { ...byHand, key: 'off', amount_cents: 0 },
      { ...byHand, aimed_at: 'off' },
    ),
    allows: [ofLines(labor, byHand)],
  },

  // ------------------------------------------------------------ what the owner confirms
  {
    title: 'what the owner confirms is words, not blanks',
    guard: 'quote_confirmation_says_something',
    sqlState: check,
    breaks: [confirmationRow(quotes.draft, { statement: ' \n\t' })],
    allows: [[confirmationRow(quotes.draft)]],
  },
  {
    title: 'the owner confirms what there is to confirm',
    guard: 'quote_confirmation_kind_known',
    sqlState: check,
    breaks: [confirmationRow(quotes.draft, { kind: 'good_mood' })],
    allows: [[confirmationRow(quotes.draft)]],
  },
  {
    title: 'what is confirmed is a revision that exists',
    guard: 'quote_confirmation_revision_exists',
    sqlState: foreignKey,
    breaks: [confirmationRow(quotes.draft, { revision: 9 })],
    allows: [[confirmationRow(quotes.issued, { revision: 2 })]],
  },
  {
    title: 'what is confirmed is a quote that exists',
    guard: 'quote_confirmation_quote_id_fkey',
    behind: ['quote_confirmation_revision_exists'],
    sqlState: foreignKey,
    breaks: [confirmationRow(999)],
    allows: [[confirmationRow(quotes.draft)]],
  },
  signed(
    'quote_confirmation_confirmed_by_fkey',
    (row) => confirmationRow(quotes.draft, row),
    'confirmed_by_id',
  ),
  ...Object.keys(taskWords)
    .filter((task) => installsEquipment(taskCodeSchema.parse(task)))
    .map((task) => ({
      title: `a new machine is offered only with the owner’s word on the refrigerant rules: ${task}`,
      guard: 'quote_issue_confirmed',
      sqlState: check,
      breaks: newMachine(task),
      allows: [newMachine(task, confirmationRow(number)), newMachine('replace_dual_run_capacitor')],
    })),
];

/** A quote of one task, issued. */
function newMachine(task: string, ...confirmed: Statement[]): Statement[] {
  const found = id(68);
  const lines = [{ ...part, finding_ids: [found] }];
  return [
    findingRow({ id: found, task_code: task }),
    ...draftRows({ number, options: [{ lines }] }),
    ...confirmed,
    ...issued(number),
  ];
}

/** Adjustments of a line, one after the other. */
function adjusted(line: Row, ...steps: number[]): Row[] {
  return steps.map((amount_cents, at) => ({
    ...byHand,
    ...{ key: `by-hand-${at}`, aimed_at: line['key'], amount_cents },
  }));
}

function ofLines(...lines: Row[]): Statement[] {
  return ofOption({ lines });
}

function ofOption(option: OptionDraft): Statement[] {
  return draftRows({ number, options: [option] });
}
