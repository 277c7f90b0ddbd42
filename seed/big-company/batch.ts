import { createHash } from 'node:crypto';
import type { QuoteState, TicketState } from '../../src/lifecycles/index.ts';
import { copyLine, type Row, type TableName, tableNames } from './rows.ts';
import type { Truth } from './wrongs/truth.ts';

/**
 * The steps of quotes, in the order in which the database lets a whole batch take them: a quote has
 * one standing revision at a time, so an older one is issued and superseded before the last is
 * issued, and answers come after that.
 */
export const stepOrder = ['issue_older', 'supersede', 'issue', 'answer'] as const;

/** A step of one revision along its life, taken after its rows are there. */
export interface QuoteStep {
  step: (typeof stepOrder)[number];
  quoteId: string;
  revision: number;
  state: QuoteState;
  at: Date;
}

/**
 * How a ticket goes on once its work is on record: what was done is put down while it is open, a
 * closing while it may be closed, and what comes back opens it again.
 */
export const ticketStepOrder = ['close', 'reopen', 'work_again', 'close_again'] as const;

export interface TicketStep {
  step: (typeof ticketStepOrder)[number];
  ticketId: string;
  state: TicketState;
  /** How many states it went through to come there. */
  moves: number;
}

/** What an invoice comes to be, by its issue or by its money. */
export interface InvoiceStep {
  step: 'issue' | 'money';
  invoiceId: string;
  state: 'issued' | 'settled';
  at: Date;
}

/** The rows of some tickets, ready for COPY, and the steps their quotes, tickets and bills then take. */
export interface Batch {
  lines: Record<TableName, string[]>;
  steps: QuoteStep[];
  /** Those of change orders, which begin when the others are done. */
  changeSteps: QuoteStep[];
  ticketSteps: TicketStep[];
  invoiceSteps: InvoiceStep[];
  /** What was written wrongly on purpose, and what would have been right. */
  truths: Truth[];
  add<T extends TableName>(table: T, row: Row<T>): void;
  /** The same for a change order, whose quote is loaded after what it changes. */
  addChange<T extends TableName>(table: T, row: Row<T>): void;
}

export function newBatch(): Batch {
  const lines = Object.fromEntries(tableNames.map((name) => [name, []])) as unknown as Record<
    TableName,
    string[]
  >;
  return {
    lines,
    ...{ steps: [], changeSteps: [], ticketSteps: [], invoiceSteps: [], truths: [] },
    add: (table, row) => lines[table].push(copyLine(table, row)),
    addChange: (table, row) => lines[laterOf[table] ?? table].push(copyLine(table, row)),
  };
}

const laterOf: Partial<Record<TableName, TableName>> = {
  quote: 'quote_again',
  quote_revision: 'quote_revision_again',
  quote_option: 'quote_option_again',
  quote_line: 'quote_line_again',
  quote_state: 'quote_state_again',
  quote_issue: 'quote_issue_again',
  quote_acceptance: 'quote_acceptance_again',
};

/** SHA-256 of every row and step of a company, list by list, however it was cut into batches. */
export function hashBatches(batches: Iterable<Batch>): string {
  const hashes = new Map([...tableNames, ...stepLists].map((name) => [name, createHash('sha256')]));
  for (const batch of batches) {
    for (const name of tableNames) hashes.get(name)?.update(batch.lines[name].join(''));
    for (const name of stepLists) {
      for (const step of batch[name]) hashes.get(name)?.update(`${JSON.stringify(step)}\n`);
    }
  }
  const whole = createHash('sha256');
  for (const [name, hash] of hashes) whole.update(`${name} ${hash.digest('hex')}\n`);
  return whole.digest('hex');
}

const stepLists = ['steps', 'changeSteps', 'ticketSteps', 'invoiceSteps', 'truths'] as const;
