import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  agreedRows,
  cancellationRow,
  cancelUntil,
  changeOrder,
  followUpRow,
  type Job,
  jobOf,
  jobs,
  linesFor,
  linkRow,
  quoteOf,
  settled,
  visitedRows,
} from '../life-rows.ts';
import {
  accepted,
  declineNoteRow,
  declineRow,
  draftRows,
  issued,
  moveTo,
  optionId,
} from '../quote-rows.ts';
import { customerRow, id, ids, type Row, type Statement, sql, visitRow } from '../rows.ts';
import { quotes } from '../stock.ts';
import { refers, signed, word } from './record-cases.ts';

const { agreed, cancelled } = jobs;
const { issued: standing } = quotes;
const link = (change: Row = {}) => linkRow(standing, change);
const anywhere = (change: Row = {}) => linkRow(quotes.declined, change);
const followUp = (change: Row = {}) => followUpRow(standing, change);
const noteRow = (change: Row = {}) => declineNoteRow(standing, change);
const cancel = (change: Row = {}) => cancellationRow(agreed, change);

const answeredAt = '2026-07-15T19:20:00Z';
/** Two weeks after the issued quote's last moment, and a year after the yes. */
const fortnightOver = '2026-08-29T05:00:00Z';
const secondBeforeFortnight = '2026-08-29T04:59:59Z';
const yearOver = '2027-07-15T19:20:00Z';
const secondBeforeYear = '2027-07-15T19:19:59Z';
const byStaff: Row = { recorded_by_id: ids.technician, link_id: null };
const byLink: Row = { recorded_by_id: null, link_id: id(1_206) };
/** At the payer's link of the quote that stands. */
const byPayer: Row = { recorded_by_id: null, link_id: settled.link };

const secondVisit: Statement = visitRow({
  ...{ id: id(1_298), ticket_id: agreed.ticket, state: 'finished', purpose: 'return' },
  ...{ fee_cents: 0, arrived_at: '2026-07-15T18:04:00Z' },
});

/** Who is nothing to the site yet. */
const somebody = customerRow({ id: id(1_297) });

/** At the link of the approver, of the quote that stood until its yes. */
const takenBackAt = { quote_id: id(standing), cancelled_at: '2026-07-16T15:00:00Z' };
const takenBack = [cancel({ ...takenBackAt, ...byLink })];

/** Answers that may come through a link, each with what goes before it. */
const answers = [
  { table: 'quote_acceptance', number: standing, through: acceptedThrough },
  { table: 'quote_decline', number: standing, through: declinedThrough },
  { table: 'acceptance_cancellation', number: agreed.number, through: cancelledThrough },
];

/** Guards of links, follow-ups, change orders and what a customer takes back. */
export const linkCases: GuardCase[] = [
  // ------------------------------------------------------------ links
  word('a link is for who may say yes', 'quote_link_holder_known', anywhere, {
    holder: ['neighbor', 'payer'],
  }),
  ...[31, 33].map((length) => ({
    title: `of a link only a hash of thirty-two bytes is kept, not ${length}`,
    guard: 'quote_link_token_is_hash',
    sqlState: check,
    breaks: [link({ token_hash: Buffer.alloc(length, 7) })],
    allows: [[link()]],
  })),
  {
    title: 'a link lives for a while',
    guard: 'quote_link_expires_later',
    sqlState: check,
    breaks: [link({ expires_at: '2026-07-15T19:11:00Z' })],
    allows: [[link({ expires_at: '2026-07-15T19:11:00.001Z' })]],
  },
  {
    title: 'a person has one living link to a quote as the one or the other; once revoked, another',
    guard: 'quote_link_one_live',
    sqlState: unique,
    breaks: [link(), secondLink()],
    allows: [
      [link(), revoked(id(1_206)), secondLink()],
      [link(), linkRow(quotes.declined, { id: id(1_299), token_hash: Buffer.alloc(32, 8) })],
      // Whoever comes after them has another.
      [link(), somebody, secondLink({ holder_id: id(1_297) })],
    ],
  },
  {
    title: 'no two links have one token',
    guard: 'quote_link_token_key',
    sqlState: unique,
    breaks: [link({ token_hash: Buffer.alloc(32, 1) })],
    allows: [[link()]],
  },
  ...[
    { how: 'is not made to last', set: `expires_at = 'infinity'` },
    { how: 'is not handed to the other holder', set: `holder = 'approver'` },
    { how: 'is not turned to another quote', set: `quote_id = '${id(quotes.declined)}'` },
    { how: 'has its token for good', set: `token_hash = sha256('x')` },
    {
      how: 'is not made to last while it is revoked',
      set: `revoked_at = now(), expires_at = 'infinity'`,
    },
  ].map(({ how, set }) => ({
    title: `a link ${how}; it may be revoked`,
    guard: 'quote_link_only_revoked',
    sqlState: check,
    breaks: [sql(`UPDATE quote_link SET ${set} WHERE id = $1`, [settled.link])],
    allows: [[revoked(settled.link)]],
  })),
  ...[`revoked_at = NULL`, `revoked_at = '2036-01-01'`].map((set) => ({
    title: `a revoked link stays as it is: not ${set}`,
    guard: 'quote_link_only_revoked',
    sqlState: check,
    breaks: [
      revoked(settled.link),
      sql(`UPDATE quote_link SET ${set} WHERE id = $1`, [settled.link]),
    ],
    allows: [[revoked(settled.link)]],
  })),
  {
    title: 'a link is never deleted',
    guard: 'quote_link_only_revoked',
    sqlState: check,
    breaks: [sql('DELETE FROM quote_link WHERE id = $1', [settled.link])],
    allows: [[revoked(settled.link)]],
  },
  signed('quote_link_created_by_fkey', link, 'created_by_id'),
  refers('quote_link_quote_id_fkey', (row) => link(row), { quote_id: id(standing) }),
  refers('quote_link_holder_id_fkey', (row) => link(row), { holder_id: id(1_297) }, [somebody]),

  // ------------------------------------------------------------ answers through a link
  ...answers.flatMap(({ table, number, through }) => [
    {
      title: `who witnessed it is known, and is one: ${table}`,
      guard: `${table}_one_witness`,
      sqlState: check,
      breaks: [linkRow(number), ...through({ recorded_by_id: ids.technician })],
      allows: [[linkRow(number), ...through({})], through({ ...byStaff })],
    },
    {
      title: `nobody witnessed it: ${table}`,
      guard: `${table}_one_witness`,
      sqlState: check,
      breaks: through({ recorded_by_id: null, link_id: null }),
      allows: [through({ ...byStaff })],
    },
    ...[
      { why: 'was revoked', before: [linkRow(number), revoked(id(1_206))] },
      {
        why: 'was made only later',
        before: [linkRow(number, { created_at: '2026-07-15T19:20:01Z' })],
      },
      { why: 'is of another quote', before: [linkRow(quotes.declined)] },
      {
        why: 'is of whoever decided and paid before',
        before: [linkRow(number), somebody, ...bothNow()],
      },
    ].map(({ why, before }) => ({
      title: `an answer does not come through a link that ${why}: ${table}`,
      guard: `${table}_living_link`,
      sqlState: check,
      breaks: [...before, ...through({})],
      allows: [
        [linkRow(number), ...through({})],
        // The quote still stands, or was answered less than a year ago.
        [linkRow(number, { expires_at: answeredAt }), ...through({})],
        // Whoever hands one part on answers in the other.
        ...[{ payer_id: id(1_297) }, { approver_id: id(1_297) }].map((part) => [
          ...[linkRow(number), somebody, siteNow(part)],
          ...through({}),
        ]),
      ],
    })),
  ]),
  {
    title: 'nor through one that has run out, two weeks after the quote itself',
    guard: 'quote_decline_living_link',
    sqlState: check,
    breaks: [link({ expires_at: answeredAt }), ...declinedThrough({ declined_at: fortnightOver })],
    allows: [
      [link(), ...declinedThrough({ declined_at: '2026-08-14T19:10:59Z' })],
      [
        link({ expires_at: answeredAt }),
        ...declinedThrough({ declined_at: secondBeforeFortnight }),
      ],
    ],
  },
  {
    title: 'the link of a quote takes back what was added to it, and never the other way around',
    guard: 'acceptance_cancellation_living_link',
    sqlState: check,
    behind: ['acceptance_cancellation_with_change_orders'],
    breaks: [...addedTo(agreed), linkRow(311), ...cancelledThrough({})],
    allows: [
      [
        ...[...addedTo(agreed), linkRow(agreed.number)],
        ...cancelledThrough({}),
        ...cancelledThrough({ quote_id: id(311) }),
      ],
    ],
  },
  {
    title: 'nor through the payer’s link of somebody who neither decides nor pays any more',
    guard: 'quote_decline_living_link',
    sqlState: check,
    breaks: [somebody, ...bothNow(), ...declinedThrough(byPayer)],
    allows: [
      declinedThrough(byPayer),
      [somebody, siteNow({ payer_id: id(1_297) }), ...declinedThrough(byPayer)],
    ],
  },
  {
    title: 'whoever said yes at a link takes it back at theirs, though somebody else answers now',
    guard: 'acceptance_cancellation_living_link',
    sqlState: check,
    breaks: [...yesOfTheApproverBefore(byStaff), ...takenBack],
    allows: [
      [...yesOfTheApproverBefore(byLink), ...takenBack],
      // The link of the yes was lost, and they were given another one.
      [
        ...yesOfTheApproverBefore(byLink),
        revoked(id(1_206)),
        secondLink(),
        cancel({ ...takenBackAt, ...byLink, link_id: id(1_299) }),
      ],
    ],
  },
  {
    title: 'nor a year after the yes',
    guard: 'acceptance_cancellation_living_link',
    sqlState: check,
    behind: ['acceptance_cancellation_in_time'],
    breaks: [linkRow(agreed.number), ...cancelledThrough({ cancelled_at: yearOver })],
    allows: [[linkRow(agreed.number), ...cancelledThrough({ cancelled_at: secondBeforeYear })]],
  },
  ...[{ condition_left: ' ' }, { danger_warned: '' }].map((change) => ({
    title: `what is said afterwards of a no says something: not ${JSON.stringify(change)}`,
    guard: 'quote_decline_note_said',
    sqlState: check,
    breaks: [...silentNo(), noteRow(change)],
    allows: [
      [...silentNo(), noteRow()],
      [...silentNo(), noteRow({ danger_warned: null })],
    ],
  })),
  {
    title: 'it is said once',
    guard: 'quote_decline_note_pkey',
    sqlState: unique,
    breaks: [...silentNo(), noteRow(), noteRow()],
    allows: [[...silentNo(), noteRow()]],
  },
  {
    title: 'it is said by a member of staff',
    guard: 'quote_decline_note_noted_by_fkey',
    sqlState: foreignKey,
    breaks: [...silentNo(), noteRow({ noted_by_id: ids.nobody })],
    allows: [[...silentNo(), noteRow({ noted_by_id: ids.owner })]],
  },
  {
    title: 'it is said of a no',
    guard: 'quote_decline_note_quote_id_fkey',
    sqlState: foreignKey,
    behind: ['quote_decline_note_of_silent_no'],
    breaks: [noteRow()],
    allows: [[...silentNo(), noteRow()]],
  },
  ...[
    { what: 'a no that said it itself', before: declinedThrough(byStaff), change: {} },
    {
      what: 'a no that comes later',
      before: silentNo(),
      change: { noted_at: '2026-07-15T19:19:59Z' },
    },
  ].map(({ what, before, change }) => ({
    title: `it is not said of ${what}`,
    guard: 'quote_decline_note_of_silent_no',
    sqlState: check,
    breaks: [...before, noteRow(change)],
    allows: [[...silentNo(), noteRow({ noted_at: answeredAt })]],
  })),
  {
    title: 'what condition was left behind is told to whoever records a no; a page cannot look',
    guard: 'quote_decline_condition_left',
    sqlState: check,
    breaks: declinedThrough({ ...byStaff, condition_left: null }),
    allows: [[link(), ...declinedThrough({ condition_left: null })]],
  },

  // ------------------------------------------------------------ a yes taken back
  {
    title: 'a yes can be taken back only after it was given',
    guard: 'quote_acceptance_cancel_after_yes',
    sqlState: check,
    breaks: accepted(standing, { cancel_until: '2026-07-15T19:20:00Z' }),
    allows: [
      accepted(standing, { cancel_until: '2026-07-15T19:20:00.001Z' }),
      accepted(standing, { cancel_until: null }),
    ],
  },
  ...[
    { when: 'when its time is over', cancelled_at: cancelUntil },
    { when: 'before it was given', cancelled_at: '2026-07-15T19:19:59Z' },
  ].map(({ when, cancelled_at }) => ({
    title: `a yes is not taken back ${when}`,
    guard: 'acceptance_cancellation_in_time',
    sqlState: check,
    breaks: [cancel({ cancelled_at })],
    allows: [[cancel({ cancelled_at: '2026-07-19T04:59:59.999Z' })]],
  })),
  {
    title: 'a yes that no rule lets anybody take back stands',
    guard: 'acceptance_cancellation_in_time',
    sqlState: check,
    breaks: [...accepted(standing), cancel({ quote_id: id(standing) })],
    allows: [
      [...accepted(standing, { cancel_until: cancelUntil }), cancel({ quote_id: id(standing) })],
    ],
  },
  {
    title: 'a yes is taken back once',
    guard: 'acceptance_cancellation_pkey',
    sqlState: unique,
    breaks: [cancellationRow(cancelled)],
    allows: [[cancel()]],
  },
  {
    title: 'a yes taken back takes with it what was added to it',
    guard: 'acceptance_cancellation_with_change_orders',
    sqlState: check,
    breaks: [...addedTo(agreed), cancel()],
    allows: [[...addedTo(agreed), cancel(), cancel({ quote_id: id(311) })], [cancel()]],
  },
  {
    title: 'what was added falls with it at the same moment, not at another',
    guard: 'acceptance_cancellation_in_time',
    sqlState: check,
    behind: ['acceptance_cancellation_with_change_orders'],
    breaks: [
      ...addedTo(agreed),
      cancel(),
      cancel({ quote_id: id(311), cancelled_at: '2026-07-16T15:00:01Z' }),
    ],
    allows: [[...addedTo(agreed), cancel(), cancel({ quote_id: id(311) })]],
  },
  signed('acceptance_cancellation_recorded_by_fkey', cancel, 'recorded_by_id'),

  // ------------------------------------------------------------ change orders
  ...[
    { what: 'a quote that is only issued', parent: { parent_id: id(standing) } },
    { what: 'a yes that was taken back', parent: { parent_id: cancelled.quote } },
    { what: 'the yes of another ticket', parent: { parent_id: jobs.closed.quote } },
  ].map(({ what, parent }) => ({
    title: `a change order does not hang on ${what}`,
    guard: 'quote_change_order_of_accepted',
    sqlState: check,
    breaks: changeOrder(agreed, 311, parent),
    allows: [changeOrder(agreed, 311)],
  })),
  {
    title: 'a change order does not hang on a change order',
    guard: 'quote_change_order_of_accepted',
    sqlState: check,
    breaks: [
      ...[...changeOrder(agreed, 311), ...issued(311), ...accepted(311)],
      ...changeOrder(agreed, 312, { parent_id: id(311) }),
    ],
    allows: [
      [
        ...[...changeOrder(agreed, 311), ...issued(311), ...accepted(311)],
        ...changeOrder(agreed, 312),
      ],
    ],
  },
  {
    title: 'once the yes is taken back, no change order of it is accepted any more',
    guard: 'quote_acceptance_sold_once',
    says: 'quote_acceptance_of_standing_parent',
    sqlState: check,
    behind: ['acceptance_cancellation_with_change_orders'],
    breaks: [...changeOrder(agreed, 311), ...issued(311), cancel(), ...accepted(311)],
    allows: [[...changeOrder(agreed, 311), ...issued(311), ...accepted(311)]],
  },
  ...['part', 'labor'].map((key) => ({
    title: `what was sold is not sold again: the ${key}`,
    guard: 'quote_acceptance_sold_once',
    sqlState: check,
    breaks: again(key === 'part' ? agreed.part : agreed.labor),
    allows: [
      [...changeOrder(agreed, 311), ...issued(311), ...accepted(311)],
      // The yes was taken back, or the work was not done.
      [cancel(), ...again(agreed.labor, null)],
      [notDone(), ...again(agreed.labor)],
    ],
  })),
  {
    title: 'nor by a quote of another visit of the ticket',
    guard: 'quote_acceptance_sold_once',
    // A line rests on a finding of its own visit; here only the second sale is looked at.
    behind: ['quote_line_evidence'],
    sqlState: check,
    breaks: [secondVisit, ...again(agreed.part, null, { visit_id: id(1_298) })],
    allows: [[secondVisit, cancel(), ...again(agreed.part, null, { visit_id: id(1_298) })]],
  },
  {
    title: 'another ticket sells what it likes',
    guard: 'quote_acceptance_sold_once',
    sqlState: check,
    breaks: again(agreed.part),
    allows: [agreedRows(jobOf(313)), visitedRows(jobOf(313))],
  },

  // ------------------------------------------------------------ follow-ups
  {
    title: 'only an issued revision is followed up',
    guard: 'quote_follow_up_of_issued',
    sqlState: foreignKey,
    breaks: [followUp({ revision: 2 })],
    allows: [[followUp()]],
  },
  ...[0, 11].map((step) => ({
    title: `follow-ups are counted from one to ten: not ${step}`,
    guard: 'quote_follow_up_step_positive',
    sqlState: check,
    breaks: [followUp({ step })],
    allows: [[followUp({ step: 10 })]],
  })),
  {
    title: 'a step is followed up once, whoever does it',
    guard: 'quote_follow_up_pkey',
    sqlState: unique,
    breaks: [followUp({ step: 1, recorded_by_id: ids.technician })],
    allows: [[followUp({ step: 2 })]],
  },
  word('a customer is reached in a way we know', 'quote_follow_up_way_known', followUp, {
    way: ['pigeon', 'text'],
  }),
  signed('quote_follow_up_recorded_by_fkey', followUp, 'recorded_by_id'),
];

function siteNow(change: Row): Statement {
  const [[column, person] = []] = Object.entries(change);
  return sql(`UPDATE site SET ${column} = $1 WHERE id = $2`, [person, ids.site]);
}

/** Somebody else decides and pays for the site. */
function bothNow(): Statement[] {
  return [siteNow({ approver_id: id(1_297) }), siteNow({ payer_id: id(1_297) })];
}

/** Another link of the quote that stands. */
function secondLink(change: Row = {}): Statement {
  return link({ id: id(1_299), token_hash: Buffer.alloc(32, 8), ...change });
}

/** A yes that may be taken back, of somebody whose place was taken since. */
function yesOfTheApproverBefore(witness: Row): Statement[] {
  return [
    link(),
    ...accepted(standing, { ...witness, cancel_until: cancelUntil }),
    somebody,
    ...bothNow(),
  ];
}

function acceptedThrough(change: Row): Statement[] {
  return accepted(standing, { ...byLink, ...change });
}

function declinedThrough(change: Row): Statement[] {
  return [declineRow(standing, { ...byLink, ...change }), moveTo(standing, 'declined')];
}

/** A no at the link, which cannot say how the system was left. */
function silentNo(): Statement[] {
  return [link(), ...declinedThrough({ condition_left: null })];
}

function cancelledThrough(change: Row): Statement[] {
  return [cancel({ cancelled_at: answeredAt, ...byLink, ...change })];
}

function revoked(linkId: string): Statement {
  return sql(`UPDATE quote_link SET revoked_at = '2026-07-15T19:19:00Z' WHERE id = $1`, [linkId]);
}

/** Another yes of the agreed job, to a quote that sells one finding; a change order unless told. */
function again(
  finding: string,
  parent: string | null = agreed.quote,
  quote: Row = {},
): Statement[] {
  return [
    ...draftRows({
      number: 311,
      quote: { ...quoteOf(agreed), parent_id: parent, ...quote },
      options: [{ lines: linesFor(finding) }],
    }),
    ...issued(311),
    ...accepted(311, { option_id: optionId(311) }),
  ];
}

function notDone(): Statement {
  return sql(
    `INSERT INTO work_outcome (id, quote_id, finding_id, visit_id, outcome, reason, recorded_at, recorded_by_id)
     VALUES (gen_random_uuid(), $1, $2, $3, 'not_done', 'No time.', now(), $4)`,
    [agreed.quote, agreed.labor, agreed.visit, ids.technician],
  );
}

/** A change order that was agreed to where no rule lets anybody take it back. */
function addedTo(job: Job): Statement[] {
  return [...changeOrder(job, 311), ...issued(311), ...accepted(311, { cancel_until: null })];
}
