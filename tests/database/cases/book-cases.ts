import { check, exclusion, type GuardCase, restrict, unique } from '../guard-case.ts';
import {
  agreementRow,
  bookDraftRow,
  bookPartRow,
  bookRow,
  findingPartRow,
  id,
  ids,
  siteRow,
  sql,
  taxRuleRow,
} from '../rows.ts';
import { refers, signed, word } from './record-cases.ts';

const lumpSum = { mode: 'lump_sum' };

/** Guards of the owner's book, its drafts, the taxes on it and the agreements by its plans. */
export const bookCases: GuardCase[] = [
  // ------------------------------------------------------------ parts
  word(
    'whose warranty a part is under is one we know',
    'price_book_part_warranty_known',
    bookPartRow,
    {
      warranty_class: ['true', 'compressor'],
    },
  ),
  word('as what a part is taxed is one we know', 'price_book_part_tax_class_known', bookPartRow, {
    tax_class: ['labor', 'equipment'],
  }),
  ...['kg', 'lb', '', 'ft'].map((unit) => ({
    title: `goods are sold by units we know: not by "${unit}"`,
    guard: 'price_book_part_unit_known',
    sqlState: check,
    breaks: [bookPartRow({ unit, pack_quantity: 25 })],
    allows: ['[lb_av]', '[oz_av]', '[ft_i]', '[in_i]', '[gal_us]'].map((known) => [
      bookPartRow({ unit: known, pack_quantity: 25 }),
    ]),
  })),
  ...[
    { unit: '[lb_av]' },
    { pack_quantity: 25 },
    { unit: '[lb_av]', pack_quantity: 0 },
    { unit: '[lb_av]', pack_quantity: -25 },
    { unit: '[lb_av]', pack_quantity: 'NaN' },
  ].map((change) => ({
    title: `what is sold by measure has a unit and a pack with something in it: not ${JSON.stringify(change)}`,
    guard: 'price_book_part_measured_whole',
    sqlState: check,
    breaks: [bookPartRow(change)],
    allows: [
      [bookPartRow({ unit: '[lb_av]', pack_quantity: '0.001' })],
      [bookPartRow({ unit: null, pack_quantity: null })],
    ],
  })),
  ...[
    { quantity: null, measured: null },
    { quantity: 1, measured: '2.5' },
    { quantity: null, measured: 0 },
    { quantity: null, measured: '-2.5' },
    { quantity: null, measured: 'NaN' },
  ].map((change) => ({
    title: `what a finding takes is counted or measured: not ${JSON.stringify(change)}`,
    guard: 'finding_part_counted_or_measured',
    sqlState: check,
    breaks: [findingPartRow({ part_code: 'WIRE-14', ...change })],
    allows: [
      [findingPartRow({ part_code: 'WIRE-14', quantity: null, measured: '0.001' })],
      [findingPartRow({ part_code: 'WIRE-14', quantity: 1, measured: null })],
    ],
  })),

  // ------------------------------------------------------------ drafts
  word('a draft of a book is open or dropped', 'price_book_draft_state_known', bookDraftRow, {
    state: ['forgotten', 'dropped'],
  }),
  ...[
    { state: 'published', published_version_id: null },
    { state: 'open', published_version_id: id(29) },
    { state: 'dropped', published_version_id: id(29) },
  ].map((change) => ({
    title: `a draft names its book once it is published, and not before: not ${change.state}`,
    guard: 'price_book_draft_published_as',
    sqlState: check,
    breaks: [bookRow(), bookDraftRow(change)],
    allows: [
      [bookRow(), bookDraftRow({ state: 'published', published_version_id: id(29) })],
      [bookDraftRow({ state: 'dropped' })],
    ],
  })),
  {
    title: 'a book was published from one draft; drafts without a book may be several',
    guard: 'price_book_draft_version_key',
    sqlState: unique,
    breaks: [bookDraftRow({ state: 'published', published_version_id: ids.book })],
    allows: [[bookDraftRow(), bookDraftRow({ id: id(195) })]],
  },
  refers(
    'price_book_draft_published_version_id_fkey',
    (row) => bookDraftRow({ state: 'published', ...row }),
    { published_version_id: id(29) },
    [bookRow()],
  ),
  signed('price_book_draft_created_by_fkey', bookDraftRow, 'created_by_id'),
  ...[
    { what: 'published', draft: ids.publishedDraft },
    { what: 'dropped', draft: ids.droppedDraft },
  ].flatMap(({ what, draft }) =>
    [`note = 'Better'`, `content = '{"tiers":[]}'`, 'version = version + 1'].map((change) => ({
      title: `a draft that was ${what} stays as it was; an open one is worked on: not ${change}`,
      guard: 'price_book_draft_ends',
      sqlState: restrict,
      breaks: [sql(`UPDATE price_book_draft SET ${change} WHERE id = $1`, [draft])],
      allows: [[sql(`UPDATE price_book_draft SET ${change} WHERE id = $1`, [ids.openDraft])]],
    })),
  ),
  {
    title: 'a draft that was dropped is not opened again',
    guard: 'price_book_draft_ends',
    sqlState: restrict,
    breaks: [sql(`UPDATE price_book_draft SET state = 'open' WHERE id = $1`, [ids.droppedDraft])],
    allows: [[sql(`UPDATE price_book_draft SET state = 'dropped' WHERE id = $1`, [ids.openDraft])]],
  },
  ...(['openDraft', 'publishedDraft', 'droppedDraft'] as const).map((draft) => ({
    title: `no draft is deleted; it may be dropped: not the ${draft}`,
    guard: 'price_book_draft_kept',
    sqlState: restrict,
    breaks: [sql('DELETE FROM price_book_draft WHERE id = $1', [ids[draft]])],
    allows: [[sql(`UPDATE price_book_draft SET state = 'dropped' WHERE id = $1`, [ids.openDraft])]],
  })),

  {
    title: 'drafts are never emptied',
    guard: 'price_book_draft_never_emptied',
    sqlState: restrict,
    breaks: [sql('TRUNCATE price_book_draft')],
    allows: [[sql(`UPDATE price_book_draft SET state = 'dropped' WHERE id = $1`, [ids.openDraft])]],
  },

  // ------------------------------------------------------------ taxes
  ...[
    { mode: 'separated', separate_above_share: '0.1' },
    { ...lumpSum, separate_above_share: '-0.000001' },
    { ...lumpSum, separate_above_share: '1.000001' },
  ].map((change) => ({
    title: `only a lump sum is stated separately above a share of itself: not ${JSON.stringify(change)}`,
    guard: 'tax_rule_separate_above_share',
    sqlState: check,
    breaks: [taxRuleRow(change)],
    allows: [
      [taxRuleRow({ ...lumpSum, separate_above_share: '0' })],
      [taxRuleRow({ ...lumpSum, separate_above_share: '1' })],
      [taxRuleRow({ ...lumpSum, separate_above_share: null })],
      [taxRuleRow({ mode: 'separated', separate_above_share: null })],
    ],
  })),

  // ------------------------------------------------------------ agreements
  ...[{ plan: '{"code": "other"}' }, { plan: '{}' }].map((change) => ({
    title: `the plan of an agreement is the one it names: not ${change.plan}`,
    guard: 'site_agreement_plan_named',
    sqlState: check,
    breaks: [agreementRow(change)],
    allows: [[agreementRow()], [agreementRow({ plan_code: 'other' })]],
  })),
  {
    title: 'an agreement does not end before it begins; ended on its first day it held on no day',
    guard: 'site_agreement_days_forward',
    // A range that runs backward cannot be built, so it has to go first.
    behind: ['site_agreement_one_per_day'],
    sqlState: check,
    breaks: [agreementRow({ ends_on: '2026-12-31' })],
    allows: [[agreementRow({ ends_on: '2027-01-01' })], [agreementRow({ ends_on: '2027-01-02' })]],
  },
  ...[
    { starts_on: '2026-12-31', ends_on: '2027-12-31' },
    { starts_on: '2025-06-01', ends_on: '2026-01-02' },
    { starts_on: '2026-03-01', ends_on: '2026-03-02' },
    { starts_on: '2025-01-01', ends_on: '2028-01-01' },
  ].map((days) => ({
    title: `a site has one agreement on a day, by whatever plan: not another ${days.starts_on} to ${days.ends_on}`,
    guard: 'site_agreement_one_per_day',
    sqlState: exclusion,
    breaks: [agreementRow({ plan_code: 'other', ...days })],
    allows: [
      [agreementRow({ starts_on: '2027-01-01', ends_on: '2028-01-01' })],
      [agreementRow({ starts_on: '2025-01-01', ends_on: '2026-01-01' })],
      [agreementRow({ starts_on: '2026-03-01', ends_on: '2026-03-01' })],
      [siteRow(), agreementRow({ site_id: id(18), ...days })],
    ],
  })),
  {
    title: 'an agreement is not stretched over the one that follows it',
    guard: 'site_agreement_one_per_day',
    behind: ['site_agreement_only_shortened'],
    sqlState: exclusion,
    breaks: [
      agreementRow(),
      sql(`UPDATE site_agreement SET ends_on = '2027-01-02' WHERE id = $1`, [ids.agreement]),
    ],
    allows: [
      [
        sql(`UPDATE site_agreement SET ends_on = '2026-06-01' WHERE id = $1`, [ids.agreement]),
        agreementRow({ starts_on: '2026-06-01' }),
      ],
    ],
  },
  ...['2027-01-02', 'infinity'].map((endsOn) => ({
    title: `an agreement is ended earlier, never later: not ${endsOn}`,
    guard: 'site_agreement_only_shortened',
    sqlState: restrict,
    breaks: [sql('UPDATE site_agreement SET ends_on = $2 WHERE id = $1', [ids.agreement, endsOn])],
    allows: [
      [sql(`UPDATE site_agreement SET ends_on = '2026-12-31' WHERE id = $1`, [ids.agreement])],
    ],
  })),
  signed('site_agreement_created_by_fkey', agreementRow, 'created_by_id'),
  refers('site_agreement_site_id_fkey', agreementRow, { site_id: id(18) }, [siteRow()]),
];
