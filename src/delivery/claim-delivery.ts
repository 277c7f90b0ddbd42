import { type Database, sqlOf } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';

/** A delivery that this worker alone works on, as long as its lease runs. */
export interface Claimed {
  id: string;
  /** This attempt's, from 1. */
  attempts: number;
  version: number;
}

/**
 * Longer than an attempt may take before the mail is handed over. A worker that is gone for so long
 * is taken to be gone for good.
 */
const LEASE_MS = 3 * 60_000;

/**
 * Takes the delivery that has been due longest, if any is. Workers side by side never take the same
 * one: a row that another has locked is passed over, and one that another took is no longer waiting.
 */
export function claimDelivery(
  db: Pick<Database, 'transact'>,
  now: Date,
): Promise<Claimed | undefined> {
  return inTx(db, async (tx) => {
    const { rows } = await sqlOf(tx).query<Claimed>(CLAIM, [
      now,
      new Date(now.getTime() + LEASE_MS),
    ]);
    return rows[0];
  });
}

const CLAIM = `
  UPDATE delivery_state SET state = 'sending', attempts = attempts + 1, next_at = NULL,
    lease_until = $2, answer_code = NULL, version = version + 1, changed_at = $1
  WHERE delivery_id = (
    SELECT delivery_id FROM delivery_state WHERE state = 'waiting' AND next_at <= $1
    ORDER BY next_at, delivery_id LIMIT 1 FOR UPDATE SKIP LOCKED)
  RETURNING delivery_id AS id, attempts, version`;
