import type { Sql } from '../platform/database/database.ts';
import { type Touch, touchOf } from './audit-events.ts';

/** A sealed change, as far as it is known what it is of. */
export interface ReadEntry {
  event: string;
  subjectKind: string;
  subjectId: string;
  /** Of what happened on a visit. */
  visitId: string | null;
}

/** The tickets that are over and that changes touch, in the order of their identifiers. */
export async function touchedTickets(sql: Sql, entries: readonly ReadEntry[]): Promise<string[]> {
  if (entries.length === 0) return [];
  const ids = (touch: Touch) =>
    entries.filter(({ event }) => touchOf(event) === touch).map((entry) => idIn(entry, touch));
  const { rows } = await sql.query<{ id: string }>(TOUCHED, [
    ids('ticket'),
    ids('finding'),
    ids('invoice'),
    ids('credit_memo'),
    ids('visit'),
    ids('quote'),
    ids('equipment'),
    ids('site'),
    ids('tax_rule'),
  ]);
  return rows.map(({ id }) => id);
}

function idIn({ event, subjectKind, subjectId, visitId }: ReadEntry, touch: Touch): string {
  const id = touch === 'visit' ? visitId : subjectKind === touch ? subjectId : null;
  if (id === null) throw new Error(`an entry of ${event} names no ${touch}`);
  return id;
}

const TOUCHED = `
  WITH own AS (
    SELECT unnest($1::uuid[]) AS id
    UNION SELECT v.ticket_id FROM finding f JOIN visit v ON v.id = f.visit_id
      WHERE f.id = ANY ($2::uuid[])
    UNION SELECT ticket_id FROM invoice WHERE id = ANY ($3::uuid[])
    UNION SELECT i.ticket_id FROM credit_memo m JOIN invoice i ON i.id = m.invoice_id
      WHERE m.id = ANY ($4::uuid[])),
  worked AS (
    SELECT ticket_id AS id FROM visit WHERE id = ANY ($5::uuid[])
    UNION SELECT ticket_id FROM quote WHERE id = ANY ($6::uuid[])),
  machine AS (
    SELECT unnest($7::uuid[]) AS id
    UNION SELECT same.id FROM worked w
      JOIN visit v ON v.ticket_id = w.id
      JOIN finding f ON f.visit_id = v.id
      JOIN equipment e ON e.id = f.equipment_id
      JOIN equipment same ON same.system_id = e.system_id),
  touched AS (
    SELECT id FROM own
    UNION SELECT id FROM worked
    UNION SELECT v.ticket_id FROM machine m
      JOIN finding f ON f.equipment_id = m.id
      JOIN visit v ON v.id = f.visit_id
    UNION SELECT id FROM ticket WHERE site_id = ANY ($8::uuid[])
    UNION SELECT t.id FROM tax_rule r
      JOIN site s ON s.jurisdiction = r.jurisdiction
      JOIN ticket t ON t.site_id = s.id
      WHERE r.id = ANY ($9::uuid[])
        AND coalesce(t.first_closed_at, t.created_at) >= r.effective_from - interval '1 day')
  SELECT t.id FROM touched x JOIN ticket t ON t.id = x.id
  WHERE t.state IN ('closed', 'cancelled', 'resolved_by_phone')
  ORDER BY t.id`;
