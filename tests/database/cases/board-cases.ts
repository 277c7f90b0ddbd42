import {
  absenceRow,
  board,
  callBackRow,
  certificateRow,
  dueRow,
  feedRow,
  helperRow,
  nextYear,
  overrideRow,
  phoneAnswerRow,
  phoneCheckRow,
  planRow,
  planUseRow,
  policyRow,
  profileRow,
  weekRow,
} from '../board-rows.ts';
import { check, exclusion, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  bookRow,
  id,
  ids,
  insert,
  type Row,
  type Statement,
  siteRow,
  sql,
  staffRow,
  ticketRow,
  visitRow,
} from '../rows.ts';
import { signed, word } from './record-cases.ts';

const now = '2026-07-15T19:00:00Z';
const BEFORE = id(1_601);
const AFTER = id(1_602);
const DUE = id(1_603);

/** A visit that was booked and taken back, so that another takes its place. */
const before = (change: Row = {}): Statement =>
  visitRow({ id: BEFORE, state: 'cancelled', end_note: 'Moved.', ...change });
const moved = (change: Row = {}): Statement =>
  visitRow({ id: AFTER, moved_from_id: BEFORE, move_asked_by: 'company', ...change });
/** The same into another window. */
const intoAnother = (change: Row): Statement =>
  moved({ ...otherWindow, window_agreed_by: 'Winifred Ashgrove', ...change });
/** A price book whose evening is dearer. */
const factors = [
  { code: 'regular', laborFactor: '1' },
  { code: 'after_hours', laborFactor: '1.5' },
];
const twoPeriods = bookRow({ periods: JSON.stringify(factors) });
const ofTwoPeriods = { price_book_version_id: id(29) };
const otherWindow = {
  window_start: '2026-07-17T18:00:00Z',
  window_end: '2026-07-17T20:00:00Z',
};
const planned = (start: string, end: string, change: Row = {}): Statement =>
  visitRow({ planned_start: start, planned_end: end, ...change });

const danger = { outcome: 'danger', danger_code: 'gas_smell', ended_at: now };
const over = {
  danger_over_at: now,
  danger_over_note: 'The utility shut the gas off.',
  danger_over_by_id: ids.owner,
};
const said = 'Her battery was low; she calls again.';
const made = { outcome: 'still_fine', made_at: now, made_by_id: ids.owner };

/** Half a place is none. */
function place(
  title: string,
  guard: string,
  row: (change: Row) => Statement,
  prefix = '',
): GuardCase[] {
  const at = (latitude: number | null, longitude: number | null) => ({
    [`${prefix}latitude_deg`]: latitude,
    [`${prefix}longitude_deg`]: longitude,
  });
  return [at(41, null), at(null, -90), at(91, 0), at(0, -181)].map((broken) => ({
    title: `${title}: not ${JSON.stringify(broken)}`,
    guard,
    sqlState: check,
    breaks: [row(broken)],
    allows: [[row(at(90, -180))], [row(at(null, null))]],
  }));
}

const policyOf = (change: Row): Statement[] => [
  sql('DELETE FROM dispatch_policy'),
  policyRow({ id: 1, ...change }),
];

function update(table: string, row: string, change: Row): Statement {
  const columns = Object.keys(change);
  const sets = columns.map((column, at) => `${column} = $${at + 2}`);
  return sql(`UPDATE ${table} SET ${sets.join(', ')} WHERE id = $1`, [
    row,
    ...Object.values(change),
  ]);
}

/** What is taken back once and changes in nothing else. */
function takenBack(table: string, row: string, column: string, another: Row): GuardCase[] {
  const guard = `${table}_${column === 'revoked_at' ? 'revoked' : 'taken_back'}_once`;
  const back = { [column]: now };
  return [
    { what: 'nothing else of it changes', breaks: [update(table, row, another)] },
    { what: 'nor on the way', breaks: [update(table, row, { ...back, ...another })] },
    {
      what: 'it does not come again',
      breaks: [update(table, row, back), update(table, row, { [column]: null })],
    },
    { what: 'it is never deleted', breaks: [sql(`DELETE FROM ${table} WHERE id = $1`, [row])] },
  ].map(({ what, breaks }) => ({
    title: `a row of ${table} is taken back once: ${what}`,
    guard,
    sqlState: check,
    breaks,
    allows: [[update(table, row, back)]],
  }));
}

/** Guards of the dispatcher's day. */
export const boardCases: GuardCase[] = [
  ...place('a site has a whole place', 'site_place_whole', siteRow),
  // ------------------------------------------------------------ planned work
  {
    title: 'planned work has a start and an end',
    guard: 'visit_plan_whole',
    sqlState: check,
    breaks: [visitRow({ planned_start: '2026-07-16T18:00:00Z' })],
    allows: [[visitRow()], [planned('2026-07-16T18:00:00Z', '2026-07-16T19:00:00Z')]],
  },
  {
    title: 'planned work takes time',
    guard: 'visit_plan_forward',
    sqlState: check,
    breaks: [planned('2026-07-16T18:00:00Z', '2026-07-16T18:00:00Z')],
    allows: [[planned('2026-07-16T18:00:00Z', '2026-07-16T18:05:00Z')]],
  },
  ...['2026-07-16T17:59:00Z', '2026-07-16T20:01:00Z'].map((start) => ({
    title: `planned work starts in the window that was promised, not at ${start}`,
    guard: 'visit_plan_in_its_window',
    sqlState: check,
    breaks: [planned(start, '2026-07-16T21:00:00Z')],
    allows: [
      [planned('2026-07-16T18:00:00Z', '2026-07-16T23:00:00Z')],
      [planned('2026-07-16T20:00:00Z', '2026-07-16T21:00:00Z')],
    ],
  })),
  ...['on_the_way', 'on_site', 'finished'].map((state) => ({
    title: `what is ${state} is not planned anew`,
    guard: 'visit_planned_anew_while_booked',
    sqlState: check,
    breaks: [
      visitRow({ state, arrived_at: now }),
      update('visit', id(49), {
        planned_start: '2026-07-16T18:30:00Z',
        planned_end: '2026-07-16T19:30:00Z',
      }),
    ],
    allows: [
      [
        visitRow(),
        update('visit', id(49), {
          planned_start: '2026-07-16T18:30:00Z',
          planned_end: '2026-07-16T19:30:00Z',
        }),
      ],
    ],
  })),
  // ------------------------------------------------------------ moving
  ...[
    { how: 'into another window that nobody agreed to', change: otherWindow },
    { how: 'to a dearer fee that nobody agreed to', change: { fee_cents: 8_901 } },
    {
      how: 'to a dearer fee of the window it has, whoever agreed',
      change: { fee_cents: 8_901, window_agreed_by: 'W', move_asked_by: 'customer' },
    },
    {
      how: 'to a dearer fee of another window, where we asked',
      change: { ...otherWindow, window_agreed_by: 'W', fee_cents: 8_901 },
    },
    {
      how: 'to a period that nobody knows, where we asked',
      change: { ...otherWindow, window_agreed_by: 'W', period_code: 'someday' },
    },
    { how: 'to another ticket', change: { ticket_id: ids.otherTicket, window_agreed_by: 'W' } },
  ].map(({ how, change }) => ({
    title: `a booking is not moved ${how}`,
    guard: 'visit_move_keeps_its_promise',
    sqlState: check,
    breaks: [before(), moved(change)],
    allows: [
      [before(), moved()],
      [staffRow(), before(), moved({ technician_id: id(9), fee_cents: 0 })],
      [before(), intoAnother({ move_asked_by: 'customer', fee_cents: 9_900 })],
      [before(), intoAnother({ fee_cents: 8_899 })],
    ],
  })),
  ...[
    { told: 8_900, share: '0.5', dearer: 4_451, asDear: 4_450 },
    // Half a cent comes off as a whole one.
    { told: 8_901, share: '0.5', dearer: 4_451, asDear: 4_450 },
    { told: 8_900, share: '0', dearer: 8_901, asDear: 8_900 },
  ].map(({ told, share, dearer, asDear }) => ({
    title: `what we ask for is not dearer than ${told} less ${share} of it`,
    guard: 'visit_move_keeps_its_promise',
    sqlState: check,
    breaks: [
      before({ fee_cents: told, fee_agreement: JSON.stringify({ share }) }),
      intoAnother({ fee_cents: dearer }),
    ],
    allows: [
      [
        before({ fee_cents: told, fee_agreement: JSON.stringify({ share }) }),
        intoAnother({ fee_cents: asDear }),
      ],
      // A dearer fee of which more comes off is none.
      [
        before({ fee_cents: told, fee_agreement: JSON.stringify({ share }) }),
        intoAnother({ fee_cents: asDear * 2, fee_agreement: JSON.stringify({ share: '0.5' }) }),
      ],
    ],
  })),
  {
    title: 'what we ask for has no dearer labor',
    guard: 'visit_move_keeps_its_promise',
    sqlState: check,
    breaks: [
      ...[twoPeriods, before(ofTwoPeriods)],
      intoAnother({ ...ofTwoPeriods, period_code: 'after_hours' }),
    ],
    allows: [
      [
        ...[twoPeriods, before({ ...ofTwoPeriods, period_code: 'after_hours' })],
        intoAnother(ofTwoPeriods),
      ],
      [
        ...[twoPeriods, before(ofTwoPeriods)],
        intoAnother({ ...ofTwoPeriods, period_code: 'after_hours', move_asked_by: 'customer' }),
      ],
    ],
  },
  ...[
    { how: 'somebody asked for', breaks: [before(), moved({ move_asked_by: null })] },
    { how: 'there is, and no other booking', breaks: [visitRow({ move_asked_by: 'company' })] },
  ].map(({ how, breaks }) => ({
    title: `a move is one that ${how}`,
    guard: 'visit_move_asked_by_somebody',
    sqlState: check,
    breaks,
    allows: [[before(), moved()], [visitRow()]],
  })),
  {
    title: 'who asks for a move is the customer or the company',
    guard: 'visit_move_asker_known',
    sqlState: check,
    breaks: [before(), moved({ move_asked_by: 'somebody' })],
    allows: [[before(), moved({ move_asked_by: 'customer' })]],
  },
  ...['booked', 'no_access'].map((state) => ({
    title: `a booking that is ${state} was not moved`,
    guard: 'visit_move_keeps_its_promise',
    sqlState: check,
    breaks: [before({ state, end_note: null }), moved()],
    behind: ['visit_one_live_work_per_technician'],
    allows: [[before(), moved()]],
  })),
  {
    title: 'a booking is moved to one place',
    guard: 'visit_moved_from_key',
    sqlState: unique,
    breaks: [before(), moved(), moved({ id: id(1_604), state: 'cancelled' })],
    allows: [[before(), moved(), visitRow({ id: id(1_604), state: 'cancelled' })]],
  },
  {
    title: 'only a move has somebody who agreed to it',
    guard: 'visit_window_agreed_for_a_move',
    sqlState: check,
    breaks: [visitRow({ window_agreed_by: 'Winifred Ashgrove' })],
    allows: [[before(), moved({ window_agreed_by: 'Winifred Ashgrove' })]],
  },
  {
    title: 'whoever agreed to another window has a name',
    guard: 'visit_window_agreed_by_somebody',
    sqlState: check,
    breaks: [before(), moved({ window_agreed_by: ' ' })],
    allows: [[before(), moved({ window_agreed_by: 'W' })]],
  },
  word('a ticket is of a known kind', 'ticket_kind_known', ticketRow, {
    kind: ['errand', 'maintenance'],
  }),
  // ------------------------------------------------------------ how days are planned
  {
    title: 'there is one policy of planning',
    guard: 'dispatch_policy_single_row',
    sqlState: check,
    breaks: [policyRow({ id: 2 })],
    allows: [policyOf({})],
  },
  ...[{ mph: 0 }, { road_factor: 0.9 }, { park_minutes: -1 }, { usual_minutes: 0 }].map(
    (wrong) => ({
      title: `trucks drive on roads of this world: not ${JSON.stringify(wrong)}`,
      guard: 'dispatch_policy_sane',
      sqlState: check,
      breaks: policyOf(wrong),
      allows: [policyOf({ mph: 1, road_factor: 1, park_minutes: 0, usual_minutes: 5 })],
    }),
  ),
  ...place(
    'trucks set out from a whole place',
    'dispatch_policy_base_whole',
    (change) => policyRow({ id: 1, ...change }),
    'base_',
  ).map((each) => ({
    ...each,
    breaks: [sql('DELETE FROM dispatch_policy'), ...each.breaks],
    allows: each.allows.map((allowed) => [sql('DELETE FROM dispatch_policy'), ...allowed]),
  })),
  // ------------------------------------------------------------ technicians
  ...place('a base is a whole place', 'technician_profile_place_whole', profileRow, 'base_'),
  signed('work_week_created_by_fkey', weekRow, 'created_by_id'),
  signed('work_absence_created_by_fkey', absenceRow, 'created_by_id'),
  signed('certificate_created_by_fkey', certificateRow, 'created_by_id'),
  signed('helper_days_created_by_fkey', helperRow, 'created_by_id'),
  {
    title: 'days off end after they begin',
    guard: 'work_absence_forward',
    sqlState: check,
    breaks: [absenceRow({ last_day: '2026-07-19' })],
    allows: [[absenceRow({ last_day: '2026-07-20' })]],
  },
  word('days off have a known kind', 'work_absence_why_known', absenceRow, {
    why: ['fishing', 'sick'],
  }),
  {
    title: 'a certificate holds for a day at least',
    guard: 'certificate_forward',
    sqlState: check,
    breaks: [certificateRow({ expires_on: '2025-01-01' })],
    allows: [
      [certificateRow({ expires_on: '2025-01-02' })],
      [certificateRow({ expires_on: null })],
    ],
  },
  {
    title: 'a helper’s days end after they begin',
    guard: 'helper_days_forward',
    sqlState: check,
    behind: ['helper_days_one_per_day'],
    breaks: [helperRow({ last_day: '2026-07-05' })],
    allows: [[helperRow({ last_day: '2026-07-06' })]],
  },
  {
    title: 'nobody helps himself',
    guard: 'helper_days_of_another',
    sqlState: check,
    breaks: [helperRow({ helper_id: ids.technician })],
    allows: [[helperRow()]],
  },
  {
    title: 'nobody goes with two technicians on one day',
    guard: 'helper_days_one_per_day',
    sqlState: exclusion,
    breaks: [helperRow({ first_day: '2026-07-05', technician_id: ids.technician })],
    allows: [
      [helperRow()],
      [
        update('helper_days', board.helper, { withdrawn_at: now }),
        helperRow({ first_day: '2026-07-05' }),
      ],
    ],
  },
  ...takenBack('work_absence', board.absence, 'withdrawn_at', { last_day: '2026-07-25' }),
  ...takenBack('certificate', board.certificate, 'withdrawn_at', { number: 'L-2' }),
  ...takenBack('helper_days', board.helper, 'withdrawn_at', { last_day: '2026-07-04' }),
  ...takenBack('calendar_feed', board.feed, 'revoked_at', { technician_id: ids.otherTechnician }),
  signed('calendar_feed_created_by_fkey', feedRow, 'created_by_id'),
  // ------------------------------------------------------------ phone checks
  {
    title: 'a ticket has one phone check under way',
    guard: 'phone_check_one_open',
    sqlState: unique,
    breaks: [phoneCheckRow({ run: 2 })],
    allows: [[phoneCheckRow({ run: 2, outcome: 'not_solved', ended_at: now })]],
  },
  word('a phone check is in a language we speak', 'phone_check_language_known', endedCheck, {
    language: ['la', 'es'],
  }),
  word('a phone check ends in a known way', 'phone_check_outcome_known', endedCheck, {
    outcome: ['bored', 'broken_off'],
  }),
  ...[
    { how: 'with its hour', ends: { outcome: 'solved' } },
    { how: 'in a danger that has a name', ends: { outcome: 'danger', ended_at: now } },
    { how: 'without a danger where none was', ends: { ...danger, outcome: 'solved' } },
  ].map(({ how, ends }) => ({
    title: `a phone check ends ${how}`,
    guard: 'phone_check_end_whole',
    sqlState: check,
    breaks: [phoneCheckRow({ run: 2, ...ends })],
    allows: [[phoneCheckRow({ run: 2, ...danger })], [endedCheck()]],
  })),
  ...[
    { how: 'not empty', says: { outcome: 'broken_off', end_note: ' ' } },
    { how: 'short', says: { outcome: 'not_solved', end_note: 'x'.repeat(501) } },
    { how: 'not there where it was solved', says: { outcome: 'solved', end_note: said } },
    { how: 'not there before the end', says: { outcome: null, ended_at: null, end_note: said } },
  ].map(({ how, says }) => ({
    title: `the note of an end is ${how}`,
    guard: 'phone_check_end_note_short',
    sqlState: check,
    breaks: [endedCheck(says)],
    behind: ['phone_check_one_open'],
    allows: [
      [endedCheck({ outcome: 'broken_off', end_note: 'x'.repeat(500) })],
      [endedCheck({ outcome: 'not_solved', end_note: said })],
    ],
  })),
  ...[
    { how: 'with a note', says: { ...danger, ...over, danger_over_note: ' ' } },
    { how: 'by somebody', says: { ...danger, ...over, danger_over_by_id: null } },
    { how: 'where one was', says: { outcome: 'solved', ended_at: now, ...over } },
  ].map(({ how, says }) => ({
    title: `a danger is over ${how}`,
    guard: 'phone_check_danger_over_whole',
    sqlState: check,
    breaks: [phoneCheckRow({ run: 2, ...says })],
    allows: [[phoneCheckRow({ run: 2, ...danger, ...over })]],
  })),
  ...[
    {
      what: 'an end is not taken back',
      breaks: [
        update('phone_check', board.dangerous, {
          outcome: null,
          danger_code: null,
          ended_at: null,
        }),
      ],
    },
    {
      what: 'an end is not another one later',
      breaks: [update('phone_check', board.dangerous, { outcome: 'solved', danger_code: null })],
    },
    {
      what: 'a note is not put to it later',
      breaks: [update('phone_check', board.dangerous, { ...over, end_note: said })],
      behind: ['phone_check_end_note_short'],
    },
    {
      what: 'a danger is over once',
      breaks: [
        update('phone_check', board.dangerous, over),
        update('phone_check', board.dangerous, { danger_over_note: 'Never mind.' }),
      ],
    },
    {
      what: 'a danger is not over as it is found',
      breaks: [update('phone_check', board.check, { ...danger, ...over })],
    },
    {
      what: 'nothing else of it changes',
      breaks: [update('phone_check', board.check, { ...danger, script_version: 'phone-2' })],
    },
    {
      what: 'it is never deleted',
      breaks: [sql('DELETE FROM phone_check WHERE id = $1', [board.dangerous])],
    },
  ].map(({ what, breaks, behind = [] }) => ({
    title: `a phone check ends once: ${what}`,
    guard: 'phone_check_ends_once',
    sqlState: check,
    breaks,
    behind,
    allows: [
      [update('phone_check', board.check, danger), update('phone_check', board.check, over)],
      [update('phone_check', board.check, { outcome: 'solved', ended_at: now })],
    ],
  })),
  {
    title: 'nothing is answered after the end',
    guard: 'phone_answer_before_the_end',
    sqlState: check,
    breaks: [phoneAnswerRow({ phone_check_id: board.dangerous })],
    allows: [[phoneAnswerRow({ sequence: 2 })]],
  },
  signed('phone_check_started_by_fkey', endedCheck, 'started_by_id'),
  signed(
    'phone_check_danger_over_by_fkey',
    (change) => phoneCheckRow({ run: 2, ...danger, ...over, ...change }),
    'danger_over_by_id',
  ),
  signed('phone_answer_recorded_by_fkey', nextAnswer, 'recorded_by_id'),
  word('a call back has a known end', 'call_back_outcome_known', madeCall, {
    outcome: ['voicemail', 'back_again'],
  }),
  {
    title: 'a call back was made by somebody at some time',
    guard: 'call_back_made_whole',
    sqlState: check,
    breaks: [freshCall({ outcome: 'still_fine' })],
    allows: [[freshCall()], [madeCall()]],
  },
  {
    title: 'only trouble that is back has a next ticket',
    guard: 'call_back_next_ticket_of_one_back_again',
    sqlState: check,
    breaks: [madeCall({ next_ticket_id: ids.ticket })],
    allows: [[madeCall({ outcome: 'back_again', next_ticket_id: ids.ticket })]],
  },
  {
    title: 'tries are counted from none',
    guard: 'call_back_tries_counted',
    sqlState: check,
    breaks: [freshCall({ tries: -1 })],
    allows: [[freshCall({ tries: 3 })]],
  },
  signed('call_back_made_by_fkey', madeCall, 'made_by_id'),
  // ------------------------------------------------------------ priority
  ...[0, 6].map((rank) => ({
    title: `a rank is one of five, not ${rank}`,
    guard: 'priority_override_rank_known',
    sqlState: check,
    breaks: [overrideRow({ rank })],
    allows: [[overrideRow({ rank: 5 })], [overrideRow({ rank: null })]],
  })),
  {
    title: 'a rank given by hand has a reason',
    guard: 'priority_override_has_a_reason',
    sqlState: check,
    breaks: [overrideRow({ reason: ' ' })],
    allows: [[overrideRow()]],
  },
  signed('priority_override_created_by_fkey', overrideRow, 'created_by_id'),
  ...[{ high_deg_f: 200 }, { relative_humidity_percent: 101 }].map((wrong) => ({
    title: `weather is of this world: not ${JSON.stringify(wrong)}`,
    guard: 'day_weather_sane',
    sqlState: check,
    breaks: [insert('day_weather', { day: '2026-07-16', high_deg_f: 95, ...wrong })],
    allows: [[insert('day_weather', { day: '2026-07-16', high_deg_f: 115 })]],
  })),
  // ------------------------------------------------------------ maintenance
  ...[{ months: [] }, { months: [13] }, { months: [0] }, { minutes: 0 }].map((wrong) => ({
    title: `maintenance is due in months of the year and takes time: not ${JSON.stringify(wrong)}`,
    guard: 'maintenance_schedule_sane',
    sqlState: check,
    breaks: nextYear(wrong),
    allows: [nextYear({ months: [1, 12] })],
  })),
  {
    title: 'maintenance is due by the month',
    guard: 'maintenance_due_by_month',
    sqlState: check,
    breaks: [dueTicket(), dueRow({ ticket_id: DUE, due_month: '2026-10-02' })],
    allows: [[dueTicket(), dueRow({ ticket_id: DUE, due_month: '2026-10-01' })]],
  },
  ...[
    { how: 'a second time', ticket: dueTicket(), due: { due_month: '2026-04-01' } },
    { how: 'as a repair', ticket: dueTicket({ kind: 'repair' }), due: {} },
    { how: 'elsewhere', ticket: dueTicket({ site_id: id(18) }), due: {} },
  ].map(({ how, ticket, due }) => ({
    title: `what is due becomes one ticket for maintenance at the site: not ${how}`,
    guard: 'maintenance_due_once',
    sqlState: check,
    breaks: [siteRow(), ticket, dueRow({ ticket_id: DUE, due_month: '2026-10-01', ...due })],
    allows: [
      [dueTicket(), dueRow({ ticket_id: DUE, due_month: '2026-10-01' })],
      [
        sql(`UPDATE ticket SET state = 'cancelled' WHERE id = $1`, [board.dueTicket]),
        dueTicket(),
        dueRow({ ticket_id: DUE }),
      ],
    ],
  })),
  // ------------------------------------------------------------ plans of a day
  signed('day_plan_created_by_fkey', planRow, 'created_by_id'),
  {
    title: 'a plan was used by a member of staff',
    guard: 'day_plan_use_used_by_fkey',
    sqlState: foreignKey,
    breaks: [planRow(), planUseRow({ day_plan_id: id(1_528), used_by_id: ids.nobody })],
    allows: [[planRow(), planUseRow({ day_plan_id: id(1_528) })]],
  },
];

function endedCheck(change: Row = {}): Statement {
  return phoneCheckRow({ run: 2, outcome: 'solved', ended_at: now, ...change });
}

function nextAnswer(change: Row = {}): Statement {
  return phoneAnswerRow({ sequence: 2, ...change });
}

/** Of the ticket that has none in the stock. */
function freshCall(change: Row = {}): Statement {
  return callBackRow({ ticket_id: ids.otherTicket, ...change });
}

function madeCall(change: Row = {}): Statement {
  return freshCall({ ...made, ...change });
}

function dueTicket(change: Row = {}): Statement {
  return ticketRow({ id: DUE, kind: 'maintenance', ...change });
}
