import { createHash } from 'node:crypto';
import type { QuoteState } from '../../src/lifecycles/index.ts';
import { copyLine, type Row, type TableName, tableNames } from './rows.ts';

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

/** The rows of some tickets, ready for COPY, and the steps their quotes then take. */
export interface Batch {
  lines: Record<TableName, string[]>;
  steps: QuoteStep[];
  add<T extends TableName>(table: T, row: Row<T>): void;
}

export function newBatch(): Batch {
  const lines = Object.fromEntries(tableNames.map((name) => [name, []])) as unknown as Record<
    TableName,
    string[]
  >;
  return { lines, steps: [], add: (table, row) => lines[table].push(copyLine(table, row)) };
}

/** SHA-256 of every row and step of a company, table by table, however it was cut into batches. */
export function hashBatches(batches: Iterable<Batch>): string {
  const hashes = new Map(tableNames.map((name) => [name, createHash('sha256')]));
  const steps = createHash('sha256');
  for (const batch of batches) {
    for (const name of tableNames) hashes.get(name)?.update(batch.lines[name].join(''));
    for (const step of batch.steps) steps.update(`${JSON.stringify(step)}\n`);
  }
  const whole = createHash('sha256');
  for (const name of tableNames) whole.update(`${name} ${hashes.get(name)?.digest('hex')}\n`);
  return whole.update(steps.digest('hex')).digest('hex');
}
