import type { Role } from '../platform/access/actor.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';

/** A person as they stand, locked. */
export interface LockedStaff {
  id: string;
  name: string;
  email: string | null;
  role: Role;
  isDisabled: boolean;
  /** The hash kept of their password. */
  hash: string | null;
}

/**
 * Locks a person, so that signing in, setting a password and disabling them come one after the
 * other: nobody gets a session by what was true a moment ago.
 */
export async function lockStaff(tx: Tx, staffId: string): Promise<LockedStaff | undefined> {
  const found = await sqlOf(tx).query<LockedStaff>(LOCK, [staffId]);
  if (found.rows[0] === undefined) return undefined;
  // Read after the lock: what the statement that waits saw may be older.
  const password = await tx.staffPassword.findUnique({ where: { staffId } });
  return { ...found.rows[0], hash: password?.hash ?? null };
}

const LOCK = `
  SELECT id, name, email, role, disabled_at IS NOT NULL AS "isDisabled"
  FROM staff WHERE id = $1 FOR NO KEY UPDATE`;
