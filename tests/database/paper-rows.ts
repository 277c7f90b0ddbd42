import type { Job } from './life-rows.ts';
import { paperText } from './quote-rows.ts';
import { id, ids, insert, type Row, type Statement, sha256Of } from './rows.ts';

/** The papers of the stock. */
export const papers = { quote: id(1_401) } as const;

/** The paper of the quote that is issued, unless a change says otherwise. */
export function paperRow(change: Row = {}): Statement {
  return insert('paper', {
    id: id(1_402),
    kind: 'quote',
    number: '302',
    ticket_id: ids.ticket,
    issued_at: '2026-07-15T19:10:00Z',
    ...change,
  });
}

export function paperFileRow(change: Row = {}): Statement {
  return insert('paper_file', {
    paper_id: papers.quote,
    language: 'en',
    renderer: 'paper-1',
    ...change,
  });
}

export function paperKeyRow(change: Row = {}): Statement {
  return insert('paper_key', {
    kid: 'second',
    public_key: '{"kid":"second"}',
    first_used_at: '2026-07-15T19:10:00Z',
    ...change,
  });
}

export function workRecordRow(job: Job, change: Row = {}): Statement {
  return insert('work_record', {
    closing_id: job.closing,
    paper: paperText,
    content_hash: sha256Of(paperText),
    ...change,
  });
}
