import type { Sql, Tx } from '../platform/database/database.ts';

/** What a report is read from: one state of the database, by either client. */
export interface ReportStore {
  readonly prisma: Tx;
  readonly sql: Sql;
  readonly now: Date;
}
