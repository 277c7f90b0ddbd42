import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  agreedRows,
  cancellationRow,
  changeOrder,
  claimIs,
  claimRow,
  claimStateRow,
  claimStepRow,
  closingRow,
  jobOf,
  jobs,
  outcomeRow,
  partLeftOverRow,
  partUseRow,
  partWaitRow,
  refrigerantRow,
  strikeRow,
  ticketIs,
  visitedRows,
} from '../life-rows.ts';
import { accepted, issued } from '../quote-rows.ts';
import {
  findingRow,
  id,
  ids,
  observationRow,
  type Row,
  readingRow,
  type Statement,
  sql,
  visitRow,
} from '../rows.ts';
import { supplies } from '../supply-rows.ts';
import { refers, signed, word } from './record-cases.ts';

const { agreed, closed, cancelled } = jobs;
/** A job that sells by measure; it is not in the stock. */
const measured = jobOf(313);
const outcome = (change: Row = {}) => outcomeRow(agreed, change);
const use = (change: Row = {}) => partUseRow(agreed, change);
const leftOver = (change: Row = {}) => partLeftOverRow(agreed, change);
const move = (change: Row = {}) => refrigerantRow(agreed, change);
const wait = (change: Row = {}) => partWaitRow(agreed, change);

/** Somebody has come, and nothing is on record yet. */
const onSite = [visitRow({ state: 'on_site', arrived_at: '2026-07-16T18:04:00Z' })];
const noAccess = sql("UPDATE visit SET state = 'no_access' WHERE id = $1", [id(49)]);

/** What is recorded of work, by table. */
const records: { table: string; row: (change?: Row) => Statement }[] = [
  { table: 'work_outcome', row: outcome },
  { table: 'part_use', row: use },
  { table: 'part_left_over', row: leftOver },
  { table: 'refrigerant_move', row: move },
];

/** An outcome that is struck out by its name, and what strikes it out. */
const named = (change: Row = {}) => outcome({ id: id(1_212), ...change });
const ofOutcome: Row = { part_use_id: null, work_outcome_id: id(1_212) };

/** What is struck out, each with the strike and what of it may not stand twice. */
const struck: { table: string; record: Statement; row: Statement; again: Row }[] = [
  ofOutcome,
  { part_use_id: id(1_201) },
  { part_use_id: null, part_left_over_id: id(1_208) },
  { part_use_id: null, refrigerant_move_id: id(1_202) },
].map((again, at) => ({
  table: ['work_outcome', 'part_use', 'part_left_over', 'refrigerant_move'][at] ?? '',
  record: [named(), use(), leftOver(), move()][at] ?? use(),
  row: strikeRow(again),
  again,
}));

/** A change order of the job that was agreed to. */
const changeAccepted = [...changeOrder(agreed, 311), ...issued(311), ...accepted(311)];
const undone = (recorded_at: string) => named({ outcome: 'not_done', recorded_at });

/** Its maker is asked for a part. */
const claimed = [use({ part_code: 'FUSE-3' }), claimRow(), claimStateRow()];

/** The ticket was closed, and its trouble is back. */
const closedAndReopened = [
  ticketIs(agreed, 'work_complete'),
  closingRow(agreed),
  ticketIs(agreed, 'closed'),
  ticketIs(agreed, 'new'),
];

/** What is counted or measured of a part. */
const counted = records.filter(({ table }) => table.startsWith('part_'));

/** Guards of trips by their purpose, and of the work under a yes. */
export const workCases: GuardCase[] = [
  // ------------------------------------------------------------ trips
  word('a trip is for something we know', 'visit_purpose_known', free, {
    purpose: ['courtesy', 'callback'],
  }),
  ...['return', 'callback'].map((purpose) => ({
    title: `coming back has no fee: not for a ${purpose}`,
    guard: 'visit_return_without_fee',
    sqlState: check,
    breaks: [visitRow({ purpose, fee_cents: 1 })],
    allows: [[visitRow({ purpose, fee_cents: 0 })], [visitRow({ purpose: 'call' })]],
  })),
  {
    title: 'what is waited for was seen at a visit of the ticket, if at any',
    guard: 'part_wait_of_the_visits_ticket',
    sqlState: foreignKey,
    breaks: [wait({ visit_id: ids.visit })],
    allows: [[wait()], [wait({ visit_id: null })]],
  },
  signed('part_wait_recorded_by_fkey', wait, 'recorded_by_id'),
  refers('part_wait_ticket_id_fkey', (row) => wait({ visit_id: null, ...row }), {
    ticket_id: ids.ticket,
  }),

  // ------------------------------------------------------------ while open
  ...records.flatMap(({ table, row }) => [
    ...['closed', 'cancelled'].map((state) => ({
      title: `nothing is recorded once the ticket is ${state}: ${table}`,
      guard: `${table}_while_open`,
      behind: ['ticket_dropped_without_work'],
      sqlState: check,
      breaks: [ticketIs(agreed, state), row()],
      allows: [[row()], [ticketIs(agreed, 'work_complete'), row()]],
    })),
    ...['booked', 'on_the_way', 'no_access', 'cancelled'].map((state) => ({
      title: `nothing is recorded at a visit that is ${state}: ${table}`,
      guard: `${table}_while_open`,
      behind: ['visit_no_access_nothing_seen'],
      sqlState: check,
      breaks: [visitIs(state), row()],
      allows: [[row()], [visitIs('finished'), row()]],
    })),
    signed(`${table}_recorded_by_fkey`, row, 'recorded_by_id'),
  ]),

  // ------------------------------------------------------------ as agreed
  ...records.slice(0, 3).flatMap(({ table, row }) => [
    {
      title: `no work is recorded for a finding that the yes does not sell: ${table}`,
      guard: `${table}_was_agreed`,
      sqlState: check,
      behind: ['part_use_within_sold', 'part_left_over_within_sold'],
      breaks: [row({ finding_id: ids.proven })],
      allows: [[row()], [row({ finding_id: agreed.part })]],
    },
    {
      title: `no work is recorded under a yes that was taken back: ${table}`,
      guard: `${table}_was_agreed`,
      sqlState: check,
      breaks: [cancellationRow(agreed), row()],
      allows: [[row()]],
    },
    {
      title: `no work is recorded under the yes of another ticket: ${table}`,
      guard: `${table}_was_agreed`,
      sqlState: check,
      breaks: [...agreedRows(jobOf(313)), row({ visit_id: jobOf(313).visit })],
      allows: [[...agreedRows(jobOf(313)), row()]],
    },
  ]),
  {
    title: 'no work is done under a quote that nobody agreed to',
    guard: 'work_outcome_quote_id_fkey',
    behind: ['work_outcome_was_agreed'],
    sqlState: foreignKey,
    breaks: [outcome({ quote_id: id(302) })],
    allows: [[outcome()]],
  },

  // ------------------------------------------------------------ outcomes
  {
    title: 'what became of a finding is said once',
    guard: 'work_outcome_said_once',
    sqlState: check,
    breaks: [outcome(), outcome({ outcome: 'not_done' })],
    allows: [
      [outcome(), outcome({ finding_id: agreed.part, outcome: 'not_done' })],
      [named(), strikeRow(ofOutcome), outcome({ outcome: 'not_done' })],
    ],
  },
  {
    title: 'work was done or it was not',
    guard: 'work_outcome_known',
    behind: ['work_outcome_warranty_of_done'],
    sqlState: check,
    breaks: [outcome({ outcome: 'half_done' })],
    allows: [[outcome()], [outcome({ outcome: 'not_done' })]],
  },
  ...[
    { outcome: 'not_done', reason: null },
    { outcome: 'not_done', reason: ' \n' },
    { outcome: 'done', reason: 'Because.' },
  ].map((change) => ({
    title: `work not done has its reason, work done needs none: not ${JSON.stringify(change)}`,
    guard: 'work_outcome_reason_of_not_done',
    sqlState: check,
    breaks: [outcome(change)],
    allows: [[outcome()], [outcome({ outcome: 'not_done' })]],
  })),
  ...[
    { outcome: 'done', labor_warranty_until: null },
    { outcome: 'not_done', labor_warranty_until: '2026-08-14' },
  ].map((change) => ({
    title: `work done is warranted until a day, work not done is not: not ${JSON.stringify(change)}`,
    guard: 'work_outcome_warranty_of_done',
    sqlState: check,
    breaks: [outcome(change)],
    allows: [[outcome()], [outcome({ outcome: 'not_done' })]],
  })),

  ...['cancelled', 'resolved_by_phone'].flatMap((state) => [
    {
      title: `what was agreed to is not dropped: not ${state}`,
      guard: 'ticket_dropped_without_work',
      sqlState: check,
      breaks: [ticketIs(agreed, state)],
      allows: [[ticketIs(agreed, 'work_complete')]],
    },
    {
      title: `nor a trip that no closing has looked at: not ${state}`,
      guard: 'ticket_dropped_without_work',
      sqlState: check,
      breaks: [...visitedRows(measured), ticketIs(measured, state)],
      allows: [[...visitedRows(measured, { state: 'no_access' }), ticketIs(measured, state)]],
    },
    ...[outcomeRow(cancelled), partUseRow(cancelled)].map((record) => ({
      title: `nor what was done under a yes that was taken back: not ${state}`,
      guard: 'ticket_dropped_without_work',
      behind: ['work_outcome_was_agreed', 'part_use_was_agreed', 'visit_no_access_nothing_seen'],
      sqlState: check,
      breaks: [record, visitIs('no_access', cancelled), ticketIs(cancelled, state)],
      allows: [[visitIs('no_access', cancelled), ticketIs(cancelled, state)]],
    })),
  ]),
  ...[
    readingRow({ visit_id: id(49) }),
    observationRow({ visit_id: id(49) }),
    findingRow({ visit_id: id(49) }),
    refrigerantRow(agreed, { visit_id: id(49) }),
  ].map((record) => ({
    title: `somebody was let in where there is something on record: ${record.text.split(' ')[2]}`,
    guard: 'visit_no_access_nothing_seen',
    sqlState: check,
    breaks: [...onSite, record, noAccess],
    allows: [[...onSite, noAccess]],
  })),
  ...[outcome(), use(), leftOver()].map((record) => ({
    title: `or where work was sold and done: ${record.text.split(' ')[2]}`,
    guard: 'visit_no_access_nothing_seen',
    sqlState: check,
    breaks: [record, visitIs('no_access')],
    allows: [[record, visitIs('finished')]],
  })),
  ...[named, use, leftOver, move].map((row, at) => ({
    title: `what was struck out does not say so: ${row().text.split(' ')[2]}`,
    guard: 'visit_no_access_nothing_seen',
    // The work is put down at a visit without its quote, so that the quote says nothing of it.
    behind: ['work_outcome_was_agreed', 'part_use_was_agreed', 'part_left_over_was_agreed'],
    sqlState: check,
    breaks: [...onSite, row({ visit_id: id(49) }), noAccess],
    allows: [[...onSite, row({ visit_id: id(49) }), struck[at]?.row ?? strikeRow(), noAccess]],
  })),

  // ------------------------------------------------------------ parts and outcomes
  ...counted.map(({ table, row }) => ({
    title: `nothing goes into work that was not done: ${table}`,
    guard: `${table}_of_work_done`,
    sqlState: check,
    breaks: [outcome({ finding_id: agreed.part, outcome: 'not_done' }), row()],
    allows: [
      [outcome({ finding_id: agreed.part }), row()],
      [outcome({ outcome: 'not_done' }), row()],
    ],
  })),
  {
    title: 'work for which a part went in was done',
    guard: 'work_outcome_no_part_used',
    sqlState: check,
    breaks: [use(), outcome({ finding_id: agreed.part, outcome: 'not_done' })],
    allows: [
      [use(), outcome({ finding_id: agreed.part })],
      [use(), outcome({ outcome: 'not_done' })],
      [leftOver(), outcome({ finding_id: agreed.part, outcome: 'not_done' })],
    ],
  },

  // ------------------------------------------------------------ parts
  ...counted.flatMap(({ table, row }) => [
    ...[
      { quantity: 1, measured: '2.5' },
      { quantity: null, measured: null },
    ].map((change) => ({
      title: `a part is counted or measured: not ${JSON.stringify(change)}: ${table}`,
      guard: `${table}_one_measure`,
      behind: [`${table}_within_sold`, `${table}_quantity_positive`],
      sqlState: check,
      breaks: [row(change)],
      allows: [[row()], [row({ measured: '2.5' })]],
    })),
    ...[
      { quantity: 0 },
      { quantity: -1 },
      { measured: '0' },
      { measured: '-2.5' },
      { measured: 'NaN' },
    ].map((change) => ({
      title: `something is said of it or nothing: not ${JSON.stringify(change)}: ${table}`,
      guard: `${table}_quantity_positive`,
      behind: [`${table}_within_sold`],
      sqlState: check,
      breaks: [row(change)],
      allows: [[row()], [row({ measured: '0.001' })]],
    })),
  ]),
  {
    title: 'why a part stayed over is said',
    guard: 'part_left_over_reason_given',
    sqlState: check,
    breaks: [leftOver({ reason: ' \n' })],
    allows: [[leftOver()]],
  },
  word('what became of the old part is known', 'part_use_old_part_known', use, {
    old_part: ['sold', 'kept_for_claim'],
  }),
  ...[
    { what: 'three of two', uses: [use({ quantity: 3 })] },
    { what: 'two and one more', uses: [use({ quantity: 2 }), use({ id: id(1_299) })] },
    { what: 'a part that was not sold', uses: [use({ part_code: 'CONTACTOR-30' })] },
    { what: 'a part that was sold for another finding', uses: [use({ finding_id: agreed.labor })] },
    { what: 'feet of what was sold in pieces', uses: [use({ measured: '0.5' })] },
  ].map(({ what, uses }) => ({
    title: `no more goes in than was sold: not ${what}`,
    guard: 'part_use_within_sold',
    sqlState: check,
    breaks: uses,
    allows: [
      [use({ quantity: 2 })],
      [use(), use({ id: id(1_299) })],
      [use({ part_code: 'FUSE-3' })],
    ],
  })),
  ...[
    { what: 'three of two', rows: [leftOver({ quantity: 3 })] },
    { what: 'two used and one over', rows: [use({ quantity: 2 }), leftOver()] },
    { what: 'a part that was not sold', rows: [leftOver({ part_code: 'CONTACTOR-30' })] },
    { what: 'feet of what was sold in pieces', rows: [leftOver({ measured: '0.5' })] },
  ].map(({ what, rows }) => ({
    title: `no more stays over than was sold and not used: not ${what}`,
    guard: 'part_left_over_within_sold',
    sqlState: check,
    breaks: rows,
    allows: [[leftOver({ quantity: 2 })], [use(), leftOver()]],
  })),
  {
    title: 'what stayed over does not go in after all without a change order',
    guard: 'part_use_within_sold',
    sqlState: check,
    breaks: [leftOver(), use({ quantity: 2 })],
    allows: [[leftOver(), use()]],
  },
  ...[{ uses: [used('2.501')] }, { uses: [used('2'), used('0.501', id(1_299))] }].map(
    ({ uses }) => ({
      title: 'nor of what is measured, to a thousandth',
      guard: 'part_use_within_sold',
      sqlState: check,
      breaks: [...measuredJob(), ...uses],
      allows: [
        [...measuredJob(), used('2.5')],
        [...measuredJob(), used('2'), used('0.5', id(1_299))],
      ],
    }),
  ),

  // ------------------------------------------------------------ strikes
  {
    title: 'what was struck out makes room for what is true',
    guard: 'part_use_within_sold',
    sqlState: check,
    breaks: [use({ quantity: 2 }), use({ id: id(1_299) })],
    allows: [
      [use({ quantity: 2 }), strikeRow(), use({ id: id(1_299), quantity: 2 })],
      [use(), strikeRow(), leftOver({ quantity: 2 })],
    ],
  },
  {
    title: 'work whose parts were all struck out may be said not to be done',
    guard: 'work_outcome_no_part_used',
    sqlState: check,
    breaks: [use(), outcome({ finding_id: agreed.part, outcome: 'not_done' })],
    allows: [[use(), strikeRow(), outcome({ finding_id: agreed.part, outcome: 'not_done' })]],
  },
  ...struck.map(({ table, record, row, again }) => ({
    title: `what is struck out was struck once: ${table}`,
    guard: `work_strike_${table}_id_key`,
    sqlState: unique,
    breaks: [record, row, strikeRow({ ...again, id: id(1_211) })],
    allows: [[record, row]],
  })),
  ...struck.flatMap(({ table, record, row }) =>
    [[ticketIs(agreed, 'closed')], closedAndReopened].map((first) => ({
      title: `what a closing has looked at is not struck out: ${table}`,
      guard: 'work_strike_before_closing',
      // It was closed and reopened in two transactions, not in the one that tries this.
      behind: ['ticket_closing_takes_effect'],
      sqlState: check,
      breaks: [record, ...first, row],
      allows: [[record, row, ...first]],
    })),
  ),
  ...[{ part_use_id: null }, { refrigerant_move_id: id(1_202) }].map((change) => ({
    title: `one record is struck out at a time: not ${JSON.stringify(change)}`,
    guard: 'work_strike_of_one_record',
    sqlState: check,
    breaks: [use(), move(), strikeRow(change)],
    allows: [[use(), move(), strikeRow()]],
  })),
  {
    title: 'why a record is struck out is said',
    guard: 'work_strike_reason_given',
    sqlState: check,
    breaks: [use(), strikeRow({ reason: ' \n' })],
    allows: [[use(), strikeRow()]],
  },
  {
    title: 'a record is struck out by a member of staff',
    guard: 'work_strike_struck_by_fkey',
    sqlState: foreignKey,
    breaks: [use(), strikeRow({ struck_by_id: ids.nobody })],
    allows: [[use(), strikeRow()]],
  },
  {
    title: 'a part that its maker is asked for went in',
    guard: 'work_strike_before_closing',
    says: 'work_strike_of_unclaimed_part',
    sqlState: check,
    breaks: [...claimed, strikeRow()],
    allows: [
      [use({ part_code: 'FUSE-3' }), strikeRow()],
      [
        ...[...claimed, claimStepRow({ step: 'withdrawn', reason: 'Of another house.' })],
        ...[claimIs(id(1_205), 'withdrawn'), strikeRow()],
      ],
    ],
  },
  {
    title: 'what was not done stands where something was accepted since',
    guard: 'work_strike_before_closing',
    says: 'work_strike_of_unsold_outcome',
    sqlState: check,
    breaks: [undone('2026-07-15T17:00:00Z'), ...changeAccepted, strikeRow(ofOutcome)],
    allows: [
      [undone('2026-07-15T17:00:00Z'), strikeRow(ofOutcome)],
      [undone('2026-07-16T21:00:00Z'), ...changeAccepted, strikeRow(ofOutcome)],
      [
        ...[named({ recorded_at: '2026-07-15T17:00:00Z' }), ...changeAccepted],
        strikeRow(ofOutcome),
      ],
    ],
  },
  {
    title: 'work recorded as done keeps its last part',
    guard: 'work_strike_before_closing',
    says: 'work_strike_leaves_done_its_part',
    sqlState: check,
    breaks: [use(), outcome({ finding_id: agreed.part }), strikeRow()],
    allows: [
      [use(), strikeRow(), outcome({ finding_id: agreed.part })],
      [use(), use({ id: id(1_299) }), outcome({ finding_id: agreed.part }), strikeRow()],
      [use(), outcome(), strikeRow()],
      [
        ...[use(), named({ finding_id: agreed.part })],
        ...[strikeRow({ ...ofOutcome, id: id(1_211) }), strikeRow()],
      ],
    ],
  },
  {
    title: 'and its maker is not asked for a part whose use was struck out',
    guard: 'warranty_claim_of_free_part',
    sqlState: check,
    breaks: [use({ part_code: 'FUSE-3' }), strikeRow(), claimRow()],
    allows: [[use({ part_code: 'FUSE-3' }), claimRow()]],
  },
  {
    title: 'a part is taken from where it lay once',
    guard: 'part_use_stock_move_id_key',
    sqlState: unique,
    breaks: [
      use({ stock_move_id: supplies.used }),
      use({ stock_move_id: supplies.used, id: id(1_299) }),
    ],
    allows: [[use({ stock_move_id: supplies.used }), use({ id: id(1_299) })]],
  },

  // ------------------------------------------------------------ refrigerant
  {
    title: 'refrigerant goes in or comes out',
    guard: 'refrigerant_move_direction_known',
    sqlState: check,
    breaks: [move({ direction: 'vented', before_oz: 300, after_oz: 320 })],
    allows: [[move()], [move({ direction: 'recovered', before_oz: 300, after_oz: 320 })]],
  },
  ...[
    { before_oz: 300, after_oz: 300 },
    { before_oz: 300, after_oz: 301 },
    { direction: 'recovered', before_oz: 300, after_oz: 300 },
    { direction: 'recovered', before_oz: 301, after_oz: 300 },
    { before_oz: 1, after_oz: '-0.1' },
    { direction: 'recovered', before_oz: '-0.1', after_oz: 1 },
    { before_oz: 'NaN' },
    { direction: 'recovered', after_oz: 'NaN' },
  ].map((change) => ({
    title: `what is charged leaves the cylinder, what is recovered fills it: not ${JSON.stringify(change)}`,
    guard: 'refrigerant_move_weights',
    sqlState: check,
    breaks: [move(change)],
    allows: [
      [move()],
      [move({ before_oz: '0.1', after_oz: 0 })],
      [move({ direction: 'recovered', before_oz: 0, after_oz: '0.1' })],
    ],
  })),
  ...[{ certificate_type: ' ' }, { certificate_number: '' }].map((change) => ({
    title: `refrigerant is handled by whoever is certified: not ${JSON.stringify(change)}`,
    guard: 'refrigerant_move_certified',
    sqlState: check,
    breaks: [move(change)],
    allows: [[move()]],
  })),
  {
    title: 'a job that was taken back, and one that was closed, have no more records',
    guard: 'part_use_was_agreed',
    sqlState: check,
    breaks: [partUseRow(cancelled)],
    allows: [[use()], [ticketIs(closed, 'work_complete'), partUseRow(closed)]],
  },
];

function free(change: Row): Statement {
  return visitRow({ fee_cents: 0, ...change });
}

function visitIs(state: string, { visit } = agreed): Statement {
  return sql('UPDATE visit SET state = $2::visit_state WHERE id = $1', [visit, state]);
}

function measuredJob(): Statement[] {
  const wire: Row = {
    ...{ key: 'wire', kind: 'good', price_class: 'part', code: 'WIRE-10' },
    ...{ measured: '2.5', unit: '[ft_i]', amount_cents: 500, finding_ids: [measured.part] },
  };
  return agreedRows(measured, {}, [wire]);
}

function used(feet: string, useId = id(1_201)): Statement {
  return partUseRow(measured, { id: useId, part_code: 'WIRE-10', measured: feet });
}
