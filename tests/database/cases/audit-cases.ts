import {
  answerMemoRow,
  answerRow,
  audit,
  billRow,
  dismissalRow,
  flagIs,
  flagRow,
  flagStateRow,
  importRow,
  judgementRow,
  runRow,
} from '../audit-rows.ts';
import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import { invoiceIs, jobs, memoRows } from '../life-rows.ts';
import { id, ids, type Row, type Statement, sha256Of, sql, visitRow } from '../rows.ts';
import { signed, word } from './record-cases.ts';

const { owed, settled: done } = jobs;
const FLAG = id(1_711);
const otherHash = sha256Of('something else');

/** A flag of the billed job that says that 540 cents are owed, with its state. */
const owing = (change: Row = {}): Statement[] => [
  flagRow({ rule_code: 'line_without_finding', over_cents: 540, ...change }),
  flagStateRow(),
];
/** The memo that gives as much back. */
const memo = (change: Row = {}): Statement[] => memoRows(owed, change);
const accepted = (change: Row = {}): Statement[] => [
  answerRow({ flag_id: FLAG, ...change }),
  flagIs(FLAG, 'accepted'),
];
const withMemo = answerMemoRow({ flag_id: FLAG });
const visited = (change: Row): Statement =>
  visitRow({ state: 'finished', arrived_at: '2026-07-16T18:04:00Z', ...change });
const runIs = (set: string): Statement =>
  sql(`UPDATE audit_run SET ${set} WHERE id = $1`, [id(1_712)]);
const startedRun = runRow({ cursor: done.ticket, done: 2 });

/** Guards of the audit. */
export const auditCases: GuardCase[] = [
  // ------------------------------------------------------------ time on site
  ...['2026-07-16T18:03:59Z', null].map((left_at) => ({
    title: `nobody leaves ${left_at === null ? 'without having arrived' : 'before they arrived'}`,
    guard: 'visit_left_after_arriving',
    sqlState: check,
    breaks: [
      left_at === null
        ? visitRow({ state: 'no_access', left_at: '2026-07-16T18:30:00Z' })
        : visited({ left_at }),
    ],
    allows: [[visited({ left_at: '2026-07-16T18:04:00Z' })], [visited({ left_at: null })]],
  })),
  {
    title: 'whoever is on site has not left',
    guard: 'visit_left_at_its_end',
    sqlState: check,
    breaks: [visited({ state: 'cancelled', left_at: '2026-07-16T18:30:00Z' })],
    allows: [[visited({ state: 'no_access', left_at: '2026-07-16T18:30:00Z' })]],
  },

  // ------------------------------------------------------------ what was judged
  {
    title: 'there is one place up to which the journal was read',
    guard: 'audit_place_single_row',
    sqlState: check,
    breaks: [sql('INSERT INTO audit_place (id, position) VALUES (2, 0)')],
    allows: [],
  },
  {
    title: 'what was read of the journal is not read again',
    guard: 'audit_place_goes_on',
    sqlState: check,
    breaks: [sql('UPDATE audit_place SET position = position - 1')],
    allows: [[sql('UPDATE audit_place SET position = position + 1')]],
  },
  ...[{ facts_hash: 'abc' }, { over_cents: -1 }, { flag_count: -1 }].map((change: Row) => ({
    title: `a judgement is of facts and counts up: not ${JSON.stringify(change)}`,
    guard: 'audit_judgement_sane',
    sqlState: check,
    breaks: [judgementRow(change)],
    allows: [[judgementRow({ over_cents: 0, flag_count: 0 })]],
  })),
  {
    title: 'what waits for an answer counts up',
    guard: 'audit_judgement_open_sane',
    sqlState: check,
    breaks: [judgementRow({ open_cents: -1 })],
    allows: [[judgementRow({ open_cents: 0 })]],
  },
  word(
    'a flag asks for something we know',
    'audit_flag_severity_known',
    (change) => flagRow({ rule_code: 'fee_missing', ...change }),
    { severity: ['fraud', 'look'] },
  ),
  ...[{ sentences: '[]' }, { fingerprint: 'abc' }].map((change: Row) => ({
    title: `a flag says something: not ${JSON.stringify(change)}`,
    guard: 'audit_flag_says_something',
    sqlState: check,
    breaks: [flagRow({ rule_code: 'fee_missing', ...change })],
    allows: [[flagRow({ rule_code: 'fee_missing' })]],
  })),
  ...[{ over_cents: 1, corrections: '[]' }, { over_cents: -1 }].map((change: Row) => ({
    title: `what is owed is named charge by charge: not ${JSON.stringify(change)}`,
    guard: 'audit_flag_owes_by_its_corrections',
    sqlState: check,
    breaks: [flagRow({ rule_code: 'fee_missing', ...change })],
    allows: [
      [flagRow({ rule_code: 'fee_missing', over_cents: 1 })],
      [flagRow({ rule_code: 'fee_missing', corrections: '[]' })],
    ],
  })),

  // ------------------------------------------------------------ how a flag stands
  {
    title: 'a flag is in a state we know',
    guard: 'audit_flag_state_known',
    sqlState: check,
    breaks: [flagRow({ rule_code: 'fee_missing' }), flagStateRow({ state: 'forgotten' })],
    allows: [[flagRow({ rule_code: 'fee_missing' }), flagStateRow({ state: 'gone' })]],
    secondLine: { sqlState: check, constraint: 'audit_flag_answered' },
  },
  ...[
    { from: audit.accepted, to: 'open', version: 2, why: 'an answer is for good' },
    { from: audit.accepted, to: 'gone', version: 2, why: 'nor is it overtaken' },
    { from: audit.gone, to: 'dismissed', version: 2, why: 'what is gone is not answered' },
    { from: audit.open, to: 'gone', version: 3, why: 'each step is counted' },
  ].map(({ from, to, version, why }) => ({
    title: `a flag moves on from open or gone only: ${why}`,
    guard: 'audit_flag_state_moves_on',
    sqlState: check,
    breaks: [flagIs(from, to, version)],
    allows: [[flagIs(audit.open, 'gone')], [flagIs(audit.gone, 'open')]],
    // An answer and its state still have to fit.
    ...(from !== audit.open && { together: ['audit_flag_answered'] }),
  })),
  {
    title: 'a state is not deleted',
    guard: 'audit_flag_state_moves_on',
    sqlState: check,
    breaks: [sql('DELETE FROM audit_flag_state WHERE flag_id = $1', [audit.open])],
    allows: [],
  },
  {
    title: 'no flag is answered by its state alone',
    guard: 'audit_flag_answered',
    sqlState: check,
    breaks: [flagIs(audit.open, 'dismissed')],
    allows: [[dismissalRow(), flagIs(audit.open, 'dismissed')]],
  },
  {
    title: 'a flag is in the state of its answer',
    guard: 'audit_answer_in_its_state',
    says: 'audit_flag_answered',
    sqlState: check,
    breaks: [dismissalRow()],
    allows: [[dismissalRow(), flagIs(audit.open, 'dismissed')]],
  },
  {
    title: 'a flag is not accepted where it was dismissed',
    guard: 'audit_answer_in_its_state',
    says: 'audit_flag_answered',
    sqlState: check,
    breaks: [dismissalRow(), flagIs(audit.open, 'accepted')],
    allows: [],
    together: ['audit_flag_answered'],
  },

  // ------------------------------------------------------------ what is answered
  {
    title: 'an answer is a yes or a no',
    guard: 'audit_answer_known',
    sqlState: check,
    breaks: [dismissalRow({ answer: 'perhaps' })],
    allows: [[dismissalRow(), flagIs(audit.open, 'dismissed')]],
    secondLine: { sqlState: check, constraint: 'audit_flag_answered' },
  },
  ...[null, ' '].map((reason) => ({
    title: `a flag is dismissed for a reason: not ${JSON.stringify(reason)}`,
    guard: 'audit_answer_dismissed_with_a_reason',
    sqlState: check,
    breaks: [dismissalRow({ reason }), flagIs(audit.open, 'dismissed')],
    allows: [[dismissalRow(), flagIs(audit.open, 'dismissed')]],
  })),
  ...[{ letter: null }, { letter: ' ' }, { letter_language: 'fr' }].map((change: Row) => ({
    title: `a letter has its words and their language: not ${JSON.stringify(change)}`,
    guard: 'audit_answer_letter_whole',
    sqlState: check,
    breaks: [...owing(), ...memo(), ...accepted(change), withMemo],
    allows: [[...owing(), ...memo(), ...accepted({ letter_language: 'es' }), withMemo]],
    // Without its words there is none at all.
    ...(change['letter'] === null && {
      together: ['audit_answer_gives_back', 'audit_answer_memo_of_the_answer'],
    }),
  })),
  ...[
    { title: 'what is owed is not accepted without giving it back', before: [], after: [] },
    {
      title: 'nor by giving back something else',
      before: memoRows(owed, {}, cheaper(539)),
      after: [withMemo],
    },
    {
      title: 'nor by what was given back at another time',
      before: memo({ issued_at: '2026-07-15T19:29:59Z' }),
      after: [withMemo],
    },
    {
      title: 'nor on the bill of somebody else',
      before: [...memoRows(done, {}, cheaper(540)), invoiceIs(done, 'issued')],
      after: [withMemo],
    },
  ].map(({ title, before, after }) => ({
    title,
    guard: 'audit_answer_gives_back',
    says: 'audit_answer_gives_back',
    sqlState: check,
    breaks: [...owing(), ...before, ...accepted(), ...after],
    allows: [[...owing(), ...memo(), ...accepted(), withMemo]],
    together: ['audit_answer_memo_of_the_answer'],
  })),
  {
    title: 'a dismissal gives nothing back',
    guard: 'audit_answer_memo_of_the_answer',
    says: 'audit_answer_gives_back',
    sqlState: check,
    breaks: [
      ...owing(),
      ...memo(),
      dismissalRow({ flag_id: FLAG }),
      flagIs(FLAG, 'dismissed'),
      withMemo,
    ],
    allows: [[...owing(), dismissalRow({ flag_id: FLAG }), flagIs(FLAG, 'dismissed')]],
    together: ['audit_answer_gives_back'],
  },
  {
    title: 'no memo is added to an answer later',
    guard: 'audit_answer_memo_of_the_answer',
    says: 'audit_answer_gives_back',
    sqlState: check,
    breaks: [
      ...memoRows(done, {}, cheaper(1)),
      invoiceIs(done, 'issued'),
      answerMemoRow({ flag_id: audit.accepted }),
    ],
    allows: [],
  },
  {
    title: 'whoever answers is a member of staff',
    guard: 'audit_answer_answered_by_fkey',
    sqlState: foreignKey,
    breaks: [dismissalRow({ answered_by_id: ids.nobody }), flagIs(audit.open, 'dismissed')],
    allows: [[dismissalRow(), flagIs(audit.open, 'dismissed')]],
  },

  // ------------------------------------------------------------ runs
  {
    title: 'one run at a time',
    guard: 'audit_run_one_at_a_time',
    sqlState: unique,
    breaks: [runRow(), runRow({ id: id(1_715) })],
    allows: [[runRow({ finished_at: '2026-07-15T19:05:00Z' }), runRow({ id: id(1_715) })]],
  },
  word('a run is made for something we know', 'audit_run_cause_known', runRow, {
    cause: ['boredom', 'ruleset'],
  }),
  ...[{ cause: 'asked' }, { started_by_id: id(1) }].map((change: Row) => ({
    title: `whoever asked for a run is named, and nobody else: not ${JSON.stringify(change)}`,
    guard: 'audit_run_asked_by_somebody',
    sqlState: check,
    breaks: [runRow(change)],
    allows: [[runRow({ cause: 'asked', started_by_id: id(1) })]],
  })),
  ...[{ total: -1 }, { done: -1 }, { finished_at: '2026-07-15T18:59:59Z' }].map((change: Row) => ({
    title: `a run is counted and ends after it began: not ${JSON.stringify(change)}`,
    guard: 'audit_run_counted',
    sqlState: check,
    breaks: [runRow(change)],
    allows: [[runRow({ total: 0 })]],
  })),
  ...[
    'done = 1',
    `cursor = '${id(0)}'`,
    'cursor = NULL',
    'total = 5',
    "ruleset_version = 'auditing-2'",
  ].map((set) => ({
    title: `a run goes forward: not ${set}`,
    guard: 'audit_run_goes_forward',
    sqlState: check,
    breaks: [startedRun, runIs(set)],
    allows: [[startedRun, runIs(`done = 3, cursor = '${id(9_999)}', finished_at = started_at`)]],
  })),
  {
    title: 'a run ends once',
    guard: 'audit_run_goes_forward',
    sqlState: check,
    breaks: [sql('UPDATE audit_run SET finished_at = NULL WHERE id = $1', [audit.run])],
    allows: [],
  },
  signed(
    'audit_run_started_by_fkey',
    (change) => runRow({ cause: 'asked', ...change }),
    'started_by_id',
  ),

  // ------------------------------------------------------------ bills of others
  word(
    'a bill is our own or of another company',
    'bill_import_origin_known',
    (change) => importRow({ sha256: otherHash, ...change }),
    { origin: ['found', 'other_company'] },
  ),
  ...[{ sha256: 'abc' }, { file_name: ' ' }, { row_count: 0 }].map((change: Row) => ({
    title: `an import is of a file with bills: not ${JSON.stringify(change)}`,
    guard: 'bill_import_of_a_file',
    sqlState: check,
    breaks: [importRow({ sha256: otherHash, ...change })],
    allows: [[importRow({ sha256: otherHash })]],
  })),
  {
    title: 'no file is imported twice',
    guard: 'bill_import_sha256_key',
    sqlState: unique,
    breaks: [importRow()],
    allows: [[importRow({ sha256: otherHash })]],
  },
  signed(
    'bill_import_imported_by_fkey',
    (change) => importRow({ sha256: otherHash, ...change }),
    'imported_by_id',
  ),
  ...[{ row: 0 }, { flag_count: -1 }, { over_cents: -1 }].map((change: Row) => ({
    title: `an imported bill counts up: not ${JSON.stringify(change)}`,
    guard: 'imported_bill_sane',
    sqlState: check,
    breaks: [billRow({ row: 3, ...change })],
    allows: [[billRow({ row: 3 })]],
  })),
  ...['UPDATE imported_bill SET charged_cents = 1', 'DELETE FROM imported_bill'].map((change) => ({
    title: `what was read from a bill stays: not ${change}`,
    guard: 'imported_bill_only_judged_anew',
    sqlState: check,
    breaks: [sql(change)],
    allows: [[sql('UPDATE imported_bill SET over_cents = 0')]],
  })),
];

/** Labor alone that comes to so much. */
function cheaper(amount_cents: number): Row[] {
  return [{ key: 'labor', amount_cents }];
}
