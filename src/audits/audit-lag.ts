import type { Sql } from '../platform/database/database.ts';

/** How far the audit is. */
export interface AuditLag {
  /** Sealed entries that it has not read yet. */
  unreadEntries: number;
  /** Of the run over all tickets that is under way; 0 of 0 when none is. */
  runDone: number;
  runTotal: number;
}

/** Says how far the audit has read and its run has come. */
export async function auditLag(sql: Sql): Promise<AuditLag> {
  const { rows } = await sql.query<AuditLag>(LAG);
  return rows[0] ?? { unreadEntries: 0, runDone: 0, runTotal: 0 };
}

const LAG = `
  SELECT coalesce((SELECT max(position) FROM journal_seal) - (SELECT position FROM audit_place), 0)
      ::float8 AS "unreadEntries",
    coalesce(r.done, 0) AS "runDone", coalesce(r.total, 0) AS "runTotal"
  FROM (SELECT 1) always LEFT JOIN audit_run r ON r.finished_at IS NULL`;
