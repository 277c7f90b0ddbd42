import { hashOfToken } from '../platform/access/token.ts';
import type { Sql } from '../platform/database/database.ts';

/** Whom a link is for; the first owner is nobody yet. */
export type LinkedPerson = { kind: 'first_owner' } | { kind: 'of_staff'; name: string };

/** Whom a link is for that still opens. @returns undefined for one that does not */
export async function linkedPerson(
  sql: Sql,
  token: string,
  now: Date,
): Promise<LinkedPerson | undefined> {
  const link = await openLink(sql, token, now);
  if (link === undefined) return undefined;
  return link.staff_id === null
    ? { kind: 'first_owner' }
    : { kind: 'of_staff', name: link.name ?? '' };
}

/** A link that still opens, and whose it is. */
export interface OpenLink {
  id: string;
  staff_id: string | null;
  name: string | null;
  email: string | null;
}

export async function openLink(sql: Sql, token: string, now: Date): Promise<OpenLink | undefined> {
  const found = await sql.query<OpenLink>(FIND, [hashOfToken(token), now]);
  return found.rows[0];
}

const FIND = `
  SELECT l.id, l.staff_id, s.name, s.email FROM sign_in_link l LEFT JOIN staff s ON s.id = l.staff_id
  WHERE l.token_hash = $1 AND l.used_at IS NULL AND l.revoked_at IS NULL AND l.expires_at > $2
    AND s.disabled_at IS NULL`;
