import { sqlOf, type Tx } from '../platform/database/database.ts';

/** Whether any of the staff has a password, or a token by which a program works for them. */
export async function someoneCanSignIn(tx: Tx, now: Date): Promise<boolean> {
  const found = await sqlOf(tx).query<{ someone: boolean }>(FIND, [now]);
  return found.rows[0]?.someone === true;
}

/** Lets one transaction at a time make or use the first owner's link, whichever process it runs in. */
export async function lockFirstOwner(tx: Tx): Promise<void> {
  await sqlOf(tx).query("SELECT pg_advisory_xact_lock(hashtext('evenhand first owner'))");
}

const FIND = `
  SELECT EXISTS (SELECT FROM staff s WHERE s.disabled_at IS NULL AND (
    EXISTS (SELECT FROM staff_password p WHERE p.staff_id = s.id)
    OR EXISTS (SELECT FROM staff_token t WHERE t.staff_id = s.id AND t.revoked_at IS NULL
      AND (t.expires_at IS NULL OR t.expires_at > $1)))) AS someone`;
