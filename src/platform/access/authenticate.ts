import { createHash } from 'node:crypto';
import type { Sql } from '../database/database.ts';
import type { Actor, Role } from './actor.ts';

/**
 * The member of staff a bearer token belongs to.
 * @param now the present, for expiry
 * @returns undefined for a token that is unknown, expired or revoked, or of disabled staff: the
 *   caller cannot tell which
 */
export async function authenticate(sql: Sql, token: string, now: Date): Promise<Actor | undefined> {
  const found = await sql.query<{ id: string; name: string; role: Role }>(FIND, [
    tokenHash(token),
    now,
  ]);
  const staff = found.rows[0];
  return staff && { kind: 'staff', id: staff.id, name: staff.name, role: staff.role };
}

/** What is stored of a token. The token has 256 bits of chance, so a plain hash suffices. */
export function tokenHash(token: string): Buffer {
  return createHash('sha256').update(token).digest();
}

const FIND = `
  SELECT s.id, s.name, s.role
  FROM staff_token t JOIN staff s ON s.id = t.staff_id
  WHERE t.token_hash = $1 AND t.revoked_at IS NULL AND s.disabled_at IS NULL
    AND (t.expires_at IS NULL OR t.expires_at > $2)`;
