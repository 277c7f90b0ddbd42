import { check, type GuardCase } from '../guard-case.ts';
import { jobs } from '../life-rows.ts';
import { paperFileRow, paperKeyRow, paperRow, workRecordRow } from '../paper-rows.ts';
import { revisionId } from '../quote-rows.ts';
import { id, ids, type Row, type Statement, sha256Of } from '../rows.ts';
import { quotes } from '../stock.ts';

const { agreed, closed, owed, settled } = jobs;
const now = '2026-07-15T19:30:00Z';
const answered = '2026-07-15T19:20:00Z';

/** Guards of what papers there are. */
export const paperCases: GuardCase[] = [
  {
    title: 'a paper tells of one thing',
    guard: 'paper_of_one_record',
    sqlState: check,
    breaks: [yes({ closing_id: closed.closing })],
    allows: [[yes()]],
  },
  {
    title: 'a paper is of the kind of what it tells of, whichever that is',
    guard: 'paper_kind_of_its_record',
    sqlState: check,
    breaks: [invoice({ kind: 'quote' })],
    allows: [
      [paperRow({ revision_id: revisionId(quotes.accepted), ticket_id: agreed.ticket })],
      [yes()],
      [
        paperRow({
          ...{ kind: 'decline', decline_of: id(quotes.declined), issued_at: answered },
          time_zone: 'America/Chicago',
        }),
      ],
      [invoice()],
      [
        paperRow({
          ...{ kind: 'credit_memo', memo_id: id(1_305) },
          ...{ ticket_id: settled.ticket, issued_at: now },
        }),
      ],
      [
        paperRow({
          ...{ kind: 'work_record', closing_id: closed.closing },
          ...{ ticket_id: closed.ticket, issued_at: now },
        }),
      ],
    ],
  },
  {
    title: 'a paper has the number that is printed on it',
    guard: 'paper_number_given',
    sqlState: check,
    breaks: [yes({ number: ' ' })],
    allows: [[yes()]],
  },
  ...[
    { what: 'the paper of an answer keeps by which clock', row: yes({ time_zone: null }) },
    { what: 'no other paper keeps a clock', row: invoice({ time_zone: 'America/Chicago' }) },
    { what: 'no other paper keeps a recorder', row: invoice({ recorded_by_name: 'Desmond' }) },
  ].map(({ what, row }) => ({
    title: what,
    guard: 'paper_of_answer_whole',
    sqlState: check,
    breaks: [row],
    allows: [[yes({ recorded_by_name: 'Desmond Quillon' })], [invoice()]],
  })),
  {
    title: 'a paper is of the ticket of what it tells of',
    guard: 'paper_stands_with_its_record',
    sqlState: check,
    breaks: [invoice({ ticket_id: ids.otherTicket })],
    allows: [[invoice()]],
  },
  {
    title: 'a paper is issued at the moment of what it tells of',
    guard: 'paper_stands_with_its_record',
    sqlState: check,
    breaks: [yes({ issued_at: now })],
    allows: [[yes()]],
  },
  {
    title: 'a revision that was never issued has no paper',
    guard: 'paper_stands_with_its_record',
    sqlState: check,
    breaks: [paperRow({ revision_id: revisionId(quotes.issued, 2) })],
    allows: [[paperRow({ revision_id: revisionId(quotes.declined) })]],
  },
  {
    title: 'a file of a paper is in a language that papers are written in',
    guard: 'paper_file_language_known',
    sqlState: check,
    breaks: [paperFileRow({ language: 'la', sha256: sha256Of('a paper') })],
    allows: [[paperFileRow({ language: 'es', sha256: sha256Of('a paper') })]],
  },
  {
    title: 'a key that signs papers goes by the name that it says itself',
    guard: 'paper_key_named_as_it_says',
    sqlState: check,
    breaks: [paperKeyRow({ kid: 'third' })],
    allows: [[paperKeyRow()]],
  },
  {
    title: 'the record of the work is what its hash is of',
    guard: 'work_record_hash_is_of_paper',
    sqlState: check,
    breaks: [workRecordRow(closed, { paper: '{"total":"less"}' })],
    allows: [[workRecordRow(closed)]],
  },
];

/** The paper of a yes. */
function yes(change: Row = {}): Statement {
  return paperRow({
    ...{ kind: 'acceptance', acceptance_of: agreed.quote },
    ...{ ticket_id: agreed.ticket, issued_at: answered, time_zone: 'America/Chicago' },
    ...change,
  });
}

/** The paper of an invoice. */
function invoice(change: Row = {}): Statement {
  return paperRow({
    ...{ kind: 'invoice', invoice_id: owed.invoice },
    ...{ ticket_id: owed.ticket, issued_at: now },
    ...change,
  });
}
