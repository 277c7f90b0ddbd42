import type { Sql } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';

/** What is known of a ticket beside what was told by phone. */
export interface KnownOfTicket {
  ticketId: string;
  kind: Ticket['kind'];
  state: Ticket['state'];
  symptoms: string[];
  createdAt: Date;
  /** When the same trouble was last reported again. */
  reopenedAt: Date | null;
  /** Of maintenance: the first day of the month it is due in, as `2026-07-01`. */
  dueMonth: string | null;
  hasAgreement: boolean;
  /** It waits for a part whose latest promised day is over. */
  isPromiseOverdue: boolean;
  wasAskedByPhone: boolean;
  /** What somebody gave by hand last; a rank of null lifts what was given before. */
  hand: { rank: number | null; reason: string; byName: string; at: string } | null;
}

/** Reads what is known of some tickets as of a local day, by one statement. */
export async function knownOfTickets(
  sql: Sql,
  ticketIds: readonly string[],
  today: string,
): Promise<KnownOfTicket[]> {
  return (await sql.query<KnownOfTicket>(KNOWN, [ticketIds, today])).rows;
}

const KNOWN = `
  SELECT t.id AS "ticketId", t.kind::text, t.state::text, t.symptoms, t.created_at AS "createdAt",
    (SELECT max(b.reopened_at) FROM ticket_callback b WHERE b.ticket_id = t.id) AS "reopenedAt",
    (SELECT d.due_month::text FROM maintenance_due d WHERE d.ticket_id = t.id) AS "dueMonth",
    EXISTS (SELECT FROM site_agreement a WHERE a.site_id = t.site_id
      AND a.starts_on <= $2::date AND a.ends_on > $2::date) AS "hasAgreement",
    t.state = 'waiting_for_part' AND coalesce((SELECT p.promised_on < $2::date FROM part_wait p
      WHERE p.ticket_id = t.id ORDER BY p.recorded_at DESC, p.id DESC LIMIT 1), false)
      AS "isPromiseOverdue",
    EXISTS (SELECT FROM phone_check k WHERE k.ticket_id = t.id) AS "wasAskedByPhone",
    (SELECT json_build_object('rank', o.rank, 'reason', o.reason, 'byName', s.name,
        'at', o.created_at)
      FROM priority_override o JOIN staff s ON s.id = o.created_by_id
      WHERE o.ticket_id = t.id ORDER BY o.created_at DESC, o.id DESC LIMIT 1) AS hand
  FROM ticket t WHERE t.id = ANY ($1::uuid[])`;
