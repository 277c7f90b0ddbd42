import type { Sql } from '../database/database.ts';
import type { Actor, Role } from './actor.ts';
import { hashOfToken } from './token.ts';

/** What somebody shows to be let in, and how it came. */
export interface ShownToken {
  token: string;
  carrier: 'bearer' | 'cookie';
}

/**
 * The member of staff a token belongs to: one that was given to a program, or that of a session.
 * A session that is used goes on, up to its end; that is written down once a minute at most.
 * @param now the present, for expiry
 * @returns undefined for a token that is unknown, expired or revoked, or of disabled staff: the
 *   caller cannot tell which
 */
export async function authenticate(
  sql: Sql,
  { token, carrier }: ShownToken,
  now: Date,
): Promise<Actor | undefined> {
  const found = await sql.query<Found>(FIND, [hashOfToken(token), now, carrier]);
  const staff = found.rows[0];
  if (staff === undefined) return undefined;
  const { id, name, role, session_id: sessionId } = staff;
  if (sessionId === null) return { kind: 'staff', id, name, role };
  if (staff.to_prolong) await sql.query(PROLONG, [sessionId, now]);
  return { kind: 'staff', id, name, role, sessionId };
}

interface Found {
  id: string;
  name: string;
  role: Role;
  session_id: string | null;
  /** Whether its use was last written down a minute ago. */
  to_prolong: boolean;
}

const FIND = `
  SELECT s.id, s.name, s.role, NULL::uuid AS session_id, false AS to_prolong
  FROM staff_token t JOIN staff s ON s.id = t.staff_id
  WHERE $3 = 'bearer' AND t.token_hash = $1 AND t.revoked_at IS NULL AND s.disabled_at IS NULL
    AND (t.expires_at IS NULL OR t.expires_at > $2)
  UNION ALL
  SELECT s.id, s.name, s.role, n.id,
    n.used_at IS NULL OR n.used_at <= $2::timestamptz - interval '1 minute'
  FROM staff_session n JOIN staff s ON s.id = n.staff_id
  WHERE n.carrier = $3 AND n.token_hash = $1 AND n.ended_at IS NULL AND s.disabled_at IS NULL
    AND n.expires_at > $2 AND n.idle_until > $2`;

// Whoever signed out in between stays signed out; and no use makes another use shorter.
const PROLONG = `
  UPDATE staff_session
  SET used_at = GREATEST(started_at, used_at, $2::timestamptz),
    idle_until = LEAST(expires_at, GREATEST(idle_until, $2::timestamptz + make_interval(secs => idle_seconds)))
  WHERE id = $1 AND ended_at IS NULL`;
