import { jobs, settled } from './life-rows.ts';
import { id, ids, insert, type Row, type Statement, sha256Of, sql } from './rows.ts';

const now = '2026-07-15T19:00:00Z';
/** When the memos of the stock were issued. */
const answeredAt = '2026-07-15T19:30:00Z';

/** What the audit of the stock is made of. */
export const audit = {
  /** Accepted, with the memo of the settled job. */
  accepted: id(1_701),
  /** Of the billed job: nobody answered it yet. */
  open: id(1_702),
  gone: id(1_703),
  run: id(1_704),
  import: id(1_705),
  bill: id(1_706),
} as const;

export function auditRows(): Statement[] {
  const { settled: done, owed } = jobs;
  return [
    judgementRow({ ticket_id: done.ticket }),
    flagRow({ id: audit.accepted, ticket_id: done.ticket, over_cents: 540 }),
    flagStateRow({ flag_id: audit.accepted, state: 'accepted' }),
    answerRow({ flag_id: audit.accepted }),
    answerMemoRow({ flag_id: audit.accepted, memo_id: settled.memo }),
    flagRow({ id: audit.open, ticket_id: owed.ticket }),
    flagStateRow({ flag_id: audit.open }),
    flagRow({ id: audit.gone, ticket_id: owed.ticket, rule_code: 'fee_twice' }),
    flagStateRow({ flag_id: audit.gone, state: 'gone' }),
    runRow({ id: audit.run, cursor: done.ticket, done: 2, finished_at: '2026-07-15T19:05:00Z' }),
    importRow({ id: audit.import }),
    billRow({ id: audit.bill }),
  ];
}

export function judgementRow(change: Row = {}): Statement {
  return insert('audit_judgement', {
    ...{
      ticket_id: jobs.owed.ticket,
      ruleset_version: 'auditing-1',
      facts_hash: sha256Of('facts'),
    },
    ...{ ended_at: now, judged_at: now, cannot_judge: '[]' },
    ...{ over_cents: 540, open_cents: 540, flag_count: 1 },
    ...change,
  });
}

export function flagRow(change: Row = {}): Statement {
  return insert('audit_flag', {
    ...{ id: id(1_711), ticket_id: jobs.owed.ticket, rule_code: 'above_ceiling' },
    ...{ fingerprint: sha256Of('what it says'), severity: 'owed' },
    ...{ sentences: '["The labor is $5.00 above the price book."]' },
    ...{ corrections: '[{"position":1,"key":"labor","toCents":3500}]', over_cents: 0 },
    ...{ ruleset_version: 'auditing-1', raised_at: now },
    ...change,
  });
}

export function flagStateRow(change: Row = {}): Statement {
  return insert('audit_flag_state', { flag_id: id(1_711), changed_at: now, ...change });
}

export function flagIs(flag: string, state: string, version = 2): Statement {
  return sql('UPDATE audit_flag_state SET state = $2, version = $3 WHERE flag_id = $1', [
    flag,
    state,
    version,
  ]);
}

/** An acceptance with its letter, unless a change says otherwise. */
export function answerRow(change: Row = {}): Statement {
  return insert('audit_answer', {
    ...{ flag_id: audit.open, answer: 'accepted', reason: null },
    ...{ letter_language: 'en', letter: 'We charged $5.40 too much.' },
    ...{ answered_at: answeredAt, answered_by_id: ids.owner },
    ...change,
  });
}

/** A dismissal with its reason. */
export function dismissalRow(change: Row = {}): Statement {
  return answerRow({
    ...{ answer: 'dismissed', reason: 'Agreed by phone.', letter_language: null, letter: null },
    ...change,
  });
}

export function answerMemoRow(change: Row = {}): Statement {
  return insert('audit_answer_memo', { flag_id: audit.open, memo_id: id(1_212), ...change });
}

export function runRow(change: Row = {}): Statement {
  return insert('audit_run', {
    ...{ id: id(1_712), ruleset_version: 'auditing-1', cause: 'ruleset', total: 4 },
    ...{ started_at: now, started_by_id: null },
    ...change,
  });
}

export function importRow(change: Row = {}): Statement {
  return insert('bill_import', {
    ...{ id: id(1_713), file_name: 'last-year.csv', sha256: sha256Of('a file'), origin: 'own' },
    ...{ row_count: 1, imported_at: now, imported_by_id: ids.owner },
    ...change,
  });
}

export function billRow(change: Row = {}): Statement {
  return insert('imported_bill', {
    ...{ id: id(1_714), import_id: audit.import, row: 2, billed_on: '2025-07-01', content: '{}' },
    ...{ charged_cents: 70_000, judgement: '{}', flag_count: 1, over_cents: 45_000 },
    ...{ ruleset_version: 'auditing-1', price_book_version_id: ids.book },
    ...change,
  });
}
