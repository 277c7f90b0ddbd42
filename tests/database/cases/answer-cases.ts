import { check, foreignKey, type GuardCase, restrict, unique } from '../guard-case.ts';
import { linesFor } from '../life-rows.ts';
import {
  acceptanceRow,
  accepted,
  declined,
  declineRow,
  draftRows,
  issued,
  issueRow,
  moveTo,
  optionId,
  validUntil,
} from '../quote-rows.ts';
import { id, ids, insert, type Row, type Statement, sha256Of, sql } from '../rows.ts';
import { quotes } from '../stock.ts';

const { draft, issued: standing } = quotes;
const lateBy = (ms: number) => new Date(Date.parse(validUntil) + ms).toISOString();

/** Guards of issuing a quote and of the answer to it. */
export const answerCases: GuardCase[] = [
  // ------------------------------------------------------------ issue
  {
    title: 'what is issued is hashed as it is written: not a paper changed by one blank',
    guard: 'quote_issue_hash_is_of_paper',
    sqlState: check,
    breaks: [
      issueRow(draft, { paper: '{"total": "one hundred and eight dollars"}' }),
      moveTo(draft, 'issued'),
    ],
    allows: [issued(draft)],
  },
  {
    title: 'an issued quote is valid for a while',
    guard: 'quote_issue_valid_after_issue',
    sqlState: check,
    breaks: [issueRow(draft, { issued_at: validUntil }), moveTo(draft, 'issued')],
    allows: [[issueRow(draft, { issued_at: lateBy(-1) }), moveTo(draft, 'issued')]],
  },
  {
    title: 'only a revision that exists is issued',
    guard: 'quote_issue_revision_exists',
    behind: ['quote_issue_while_draft', 'quote_issue_takes_effect'],
    sqlState: foreignKey,
    breaks: [issueRow(draft, { revision: 9 })],
    allows: [issued(draft)],
  },
  {
    title: 'whoever issues a quote is a member of staff',
    guard: 'quote_issue_issued_by_fkey',
    sqlState: foreignKey,
    breaks: [issueRow(draft, { issued_by_id: ids.nobody }), moveTo(draft, 'issued')],
    allows: [issued(draft)],
  },
  {
    title: 'only a draft is issued: not a draft that was withdrawn',
    guard: 'quote_issue_while_draft',
    sqlState: check,
    breaks: [moveTo(draft, 'withdrawn'), issueRow(draft)],
    allows: [issued(draft)],
  },
  {
    title: 'an issue makes the revision issued; in the same transaction it may go on from there',
    guard: 'quote_issue_takes_effect',
    sqlState: check,
    breaks: [issueRow(draft)],
    allows: [
      issued(draft),
      [...issued(draft), moveTo(draft, 'withdrawn')],
      [...issued(draft), moveTo(draft, 'superseded')],
      [...issued(draft), ...accepted(draft)],
      [...issued(draft), ...declined(draft)],
    ],
  },
  {
    title: 'one revision of a quote stands at a time; the older one is superseded first',
    guard: 'quote_state_one_standing',
    sqlState: unique,
    breaks: issued(standing, 2),
    allows: [[moveTo(standing, 'superseded'), ...issued(standing, 2)]],
  },
  {
    title: 'once a revision is accepted no other is issued; a draft of it may still be put away',
    guard: 'quote_state_one_standing',
    sqlState: unique,
    breaks: issued(quotes.accepted, 2),
    allows: [[moveTo(quotes.accepted, 'superseded', 2)], [moveTo(quotes.accepted, 'withdrawn', 2)]],
  },

  // ------------------------------------------------------------ yes
  {
    title: 'a draft is not accepted',
    guard: 'quote_acceptance_while_issued',
    sqlState: check,
    breaks: accepted(draft),
    allows: [accepted(standing)],
    secondLine: { sqlState: foreignKey, constraint: 'quote_acceptance_shown_hash' },
  },
  ...(['withdrawn', 'superseded'] as const).map((state) => ({
    title: `a revision that was ${state} is not accepted`,
    guard: 'quote_acceptance_while_issued',
    sqlState: check,
    breaks: [moveTo(standing, state), acceptanceRow(standing)],
    allows: [accepted(standing)],
    secondLine: { sqlState: check, constraint: 'quote_acceptance_takes_effect' },
  })),
  {
    title: 'a declined revision is not accepted any more',
    guard: 'quote_acceptance_while_issued',
    sqlState: check,
    breaks: accepted(quotes.declined),
    allows: [accepted(standing)],
    secondLine: { sqlState: check, constraint: 'quote_state_moves' },
  },
  {
    title: 'a quote is not accepted a second time',
    guard: 'quote_acceptance_while_issued',
    sqlState: check,
    breaks: accepted(quotes.accepted),
    allows: [accepted(standing)],
    secondLine: { sqlState: unique, constraint: 'quote_acceptance_pkey' },
  },
  {
    title: 'nor by way of another revision',
    guard: 'quote_acceptance_pkey',
    behind: ['quote_state_one_standing'],
    sqlState: unique,
    breaks: [
      ...issued(quotes.accepted, 2),
      acceptanceRow(quotes.accepted, { revision: 2, option_id: optionId(quotes.accepted, 2) }),
      moveTo(quotes.accepted, 'accepted', 2),
    ],
    allows: [accepted(standing)],
    secondLine: { sqlState: unique, constraint: 'quote_acceptance_total_key' },
  },
  {
    title: 'a yes makes the revision accepted, it is never left lying',
    guard: 'quote_acceptance_takes_effect',
    sqlState: check,
    breaks: [acceptanceRow(standing)],
    allows: [accepted(standing)],
  },
  {
    title: 'a yes and a no to the same revision are never both on record',
    guard: 'quote_acceptance_takes_effect',
    sqlState: check,
    breaks: [acceptanceRow(standing), ...declined(standing)],
    allows: [accepted(standing), declined(standing)],
  },
  ...[
    { when: 'at the instant it expires', accepted_at: validUntil },
    { when: 'a day after it expired', accepted_at: lateBy(86_400_000) },
    { when: 'before it was issued', accepted_at: '2026-07-15T19:09:59.999Z' },
  ].map(({ when, accepted_at }) => ({
    title: `a quote is not accepted ${when}; up to its last millisecond it is`,
    guard: 'quote_acceptance_binds',
    says: 'quote_acceptance_in_time',
    sqlState: check,
    breaks: accepted(standing, { accepted_at }),
    allows: [
      accepted(standing, { accepted_at: lateBy(-1) }),
      accepted(standing, { accepted_at: '2026-07-15T19:10:00Z' }),
    ],
  })),
  ...[
    { whose: 'another revision of the quote', option_id: optionId(standing, 2) },
    { whose: 'another quote', option_id: optionId(draft) },
  ].map(({ whose, option_id }) => ({
    title: `an option of ${whose} is not accepted`,
    guard: 'quote_acceptance_binds',
    says: 'quote_acceptance_option_of_revision',
    sqlState: check,
    breaks: accepted(standing, { option_id }),
    allows: [accepted(standing)],
  })),
  {
    title: 'a second quote of a visit is not accepted beside the first; a change order is',
    guard: 'quote_acceptance_binds',
    says: 'quote_acceptance_one_per_visit',
    sqlState: check,
    breaks: [...accepted(standing), ...secondQuote(), ...issued(310), ...accepted(310)],
    allows: [
      accepted(standing),
      [...issued(draft), ...accepted(draft)],
      [
        ...accepted(standing),
        ...secondQuote({ parent_id: id(standing) }),
        ...issued(310),
        ...accepted(310),
      ],
    ],
  },
  {
    title: 'a yes is to the total that stands',
    guard: 'quote_acceptance_shown_total',
    sqlState: foreignKey,
    breaks: accepted(standing, { total_cents: 10_801 }),
    allows: [accepted(standing)],
  },
  {
    title: 'a yes is to the words that stand',
    guard: 'quote_acceptance_shown_hash',
    sqlState: foreignKey,
    breaks: accepted(standing, { content_hash: sha256Of('other words') }),
    allows: [accepted(standing)],
  },
  {
    title: 'whoever recorded a yes is a member of staff',
    guard: 'quote_acceptance_recorded_by_fkey',
    sqlState: foreignKey,
    breaks: accepted(standing, { recorded_by_id: ids.nobody }),
    allows: [accepted(standing, { recorded_by_id: ids.owner })],
  },

  // ------------------------------------------------------------ no
  {
    title: 'an accepted quote is not declined any more',
    guard: 'quote_decline_while_issued',
    sqlState: check,
    breaks: declined(quotes.accepted),
    allows: [declined(standing)],
    secondLine: { sqlState: check, constraint: 'quote_state_moves' },
  },
  {
    title: 'a no makes the revision declined, it is never left lying',
    guard: 'quote_decline_takes_effect',
    sqlState: check,
    breaks: [declineRow(standing)],
    allows: [declined(standing)],
  },
  {
    title: 'only what was issued is declined',
    guard: 'quote_decline_of_issued',
    behind: ['quote_decline_while_issued', 'quote_decline_takes_effect'],
    sqlState: foreignKey,
    breaks: [declineRow(draft)],
    allows: [declined(standing)],
  },
  {
    title: 'whoever recorded a no is a member of staff',
    guard: 'quote_decline_recorded_by_fkey',
    sqlState: foreignKey,
    breaks: [declineRow(standing, { recorded_by_id: ids.nobody }), moveTo(standing, 'declined')],
    allows: [[declineRow(standing, { recorded_by_id: ids.owner }), moveTo(standing, 'declined')]],
  },

  // ------------------------------------------------------------ state
  ...(['issued', 'accepted', 'declined'] as const).map((state) => ({
    title: `nothing becomes ${state} without its paper on record`,
    guard: 'quote_state_moves',
    says: 'quote_state_needs_record',
    sqlState: check,
    breaks: [moveTo(state === 'issued' ? draft : standing, state)],
    allows: [issued(draft), accepted(standing), declined(standing)],
  })),
  {
    title: 'a revision starts as a draft',
    guard: 'quote_state_moves',
    sqlState: check,
    breaks: [
      ...draftRows({ number: 310 }).slice(0, -1),
      insert('quote_state', {
        quote_id: id(310),
        revision: 1,
        state: 'issued',
        changed_at: '2026-07-15T19:10:00Z',
      }),
    ],
    allows: [draftRows({ number: 310 })],
  },
  {
    title: 'each step counts its version up by one',
    guard: 'quote_state_moves',
    sqlState: check,
    breaks: [
      sql(`UPDATE quote_state SET state = 'withdrawn' WHERE quote_id = $1 AND revision = 1`, [
        id(draft),
      ]),
    ],
    allows: [[moveTo(draft, 'withdrawn')]],
  },
  {
    title: 'a state is not handed to another revision',
    guard: 'quote_state_moves',
    sqlState: check,
    breaks: [
      ...draftRows({ number: 310 }).slice(0, -1),
      sql(
        `UPDATE quote_state SET quote_id = $2, state = 'withdrawn', version = version + 1
         WHERE quote_id = $1 AND revision = 1`,
        [id(draft), id(310)],
      ),
    ],
    allows: [[moveTo(draft, 'withdrawn')]],
  },
  {
    title: 'a state is never deleted',
    guard: 'quote_state_moves',
    says: 'quote_state_kept',
    sqlState: restrict,
    breaks: [sql('DELETE FROM quote_state WHERE quote_id = $1', [id(draft)])],
    allows: [[moveTo(draft, 'withdrawn')]],
  },
  {
    title: 'only a revision that exists has a state',
    guard: 'quote_state_revision_exists',
    sqlState: foreignKey,
    breaks: [
      insert('quote_state', {
        quote_id: id(draft),
        revision: 9,
        changed_at: '2026-07-15T19:10:00Z',
      }),
    ],
    allows: [draftRows({ number: 310 })],
  },
];

/** Another quote of the visit; it sells another finding than the first. */
function secondQuote(quote: Row = {}): Statement[] {
  return draftRows({ number: 310, quote, options: [{ lines: linesFor(ids.overridden) }] });
}
