import type { Dimension, MeasureCode } from './measures.ts';

/**
 * What has been counted so far. It grows with technicians and kinds of job, never with jobs, so it
 * can be kept while a million of them pass by.
 */
export interface Tally {
  readonly by: Dimension;
  /** By measure, subject and kind of job. */
  readonly counts: ReadonlyMap<MeasureCode, Table<Count>>;
  /** What was billed, by subject and kind of job. */
  readonly amounts: Table<Amount>;
}

export interface Count {
  readonly trials: number;
  readonly count: number;
}

export interface Amount {
  readonly jobs: number;
  readonly cents: number;
}

export type Table<Cell> = Map<string, Map<string, Cell>>;

/** Every cell with whose it is. */
export function* cellsOf<Cell>(table: Table<Cell>): Generator<[string, string, Cell]> {
  for (const [subject, kinds] of table) {
    for (const [kind, cell] of kinds) yield [subject, kind, cell];
  }
}

export function addCount(table: Table<Count>, subject: string, kind: string, more: Count): void {
  const kinds = kindsOf(table, subject);
  const { trials, count } = kinds.get(kind) ?? { trials: 0, count: 0 };
  kinds.set(kind, { trials: trials + more.trials, count: count + more.count });
}

export function addAmount(table: Table<Amount>, subject: string, kind: string, more: Amount): void {
  const kinds = kindsOf(table, subject);
  const { jobs, cents } = kinds.get(kind) ?? { jobs: 0, cents: 0 };
  kinds.set(kind, { jobs: jobs + more.jobs, cents: cents + more.cents });
}

function kindsOf<Cell>(table: Table<Cell>, subject: string): Map<string, Cell> {
  const known = table.get(subject);
  if (known !== undefined) return known;
  const kinds = new Map<string, Cell>();
  table.set(subject, kinds);
  return kinds;
}
