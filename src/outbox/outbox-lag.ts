import type { Sql } from '../platform/database/database.ts';

/** What has not gone out yet. */
export interface OutboxLag {
  waiting: number;
  sending: number;
  /** How long the delivery that is due longest has been due; 0 when none is. */
  overdueSeconds: number;
}

/** Counts what waits in the outbox. What waits for a person is in the office's list, not here. */
export async function outboxLag(sql: Sql, now: Date): Promise<OutboxLag> {
  const { rows } = await sql.query<OutboxLag>(LAG, [now]);
  return rows[0] ?? { waiting: 0, sending: 0, overdueSeconds: 0 };
}

const LAG = `
  SELECT count(*) FILTER (WHERE state = 'waiting')::int AS waiting,
    count(*) FILTER (WHERE state = 'sending')::int AS sending,
    coalesce(extract(epoch FROM $1 - min(next_at)
      FILTER (WHERE state = 'waiting' AND next_at <= $1)), 0)::float8 AS "overdueSeconds"
  FROM delivery_state WHERE state IN ('waiting', 'sending')`;
