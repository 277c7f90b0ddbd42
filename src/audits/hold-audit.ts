import { type Sql, sqlOf, type Tx } from '../platform/database/database.ts';

/**
 * Waits until nobody else judges, and keeps everybody else waiting until the transaction ends. It
 * comes after the locks of tickets and invoices, and before that of a number.
 */
export async function holdAudit(tx: Tx): Promise<void> {
  await sqlOf(tx).query('SELECT pg_advisory_xact_lock($1)', [AUDIT_LOCK]);
}

/**
 * As `holdAudit`, for whoever judges in this transaction. Everything is looked up by identifiers, so
 * one plan fits one ticket and hundreds of them among millions; to plan for each list anew takes
 * longer than to judge a ticket.
 */
export async function holdToJudge(sql: Sql): Promise<void> {
  await sql.query(
    "SELECT pg_advisory_xact_lock($1), set_config('plan_cache_mode', 'force_generic_plan', true)",
    [AUDIT_LOCK],
  );
}

/** Any number, as long as it is nobody else’s. */
const AUDIT_LOCK = 7_205_314;
