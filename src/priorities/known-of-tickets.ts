import type { Sql } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { isCallback } from '../tickets/index.ts';
import { unbookedStates } from './waiting-states.ts';

/** What is known of a ticket beside what was told by phone. */
export interface KnownOfTicket {
  ticketId: string;
  kind: Ticket['kind'];
  state: Ticket['state'];
  symptoms: string[];
  createdAt: Date;
  /** When the same trouble was last reported again. */
  reopenedAt: Date | null;
  isCallback: boolean;
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
  return (await sql.query<KnownOfTicket>(KNOWN, [today, ticketIds])).rows;
}

/** A ticket that nobody is booked for, with what a list of them shows. */
export interface KnownWaiting extends KnownOfTicket {
  ticketNumber: number;
  complaint: string;
  siteId: string;
}

/** Which tickets that nobody is booked for are to be weighed. */
export interface WaitingWanted {
  today: string;
  /** Of those of which nothing was told by phone, and that nobody ranked by hand: the oldest. */
  quietMax: number;
}

/**
 * Reads what is known of the tickets that nobody is booked for, by one statement: of all of which
 * something was told by phone or that somebody ranked by hand, and of the oldest of the others.
 * @returns how many wait, beside those that are to be weighed
 */
export async function knownWaiting(
  sql: Sql,
  { today, quietMax }: WaitingWanted,
): Promise<{ waiting: number; known: KnownWaiting[] }> {
  const values = [today, unbookedStates, quietMax];
  const { rows } = await sql.query<KnownWaiting & { waiting: number }>(WAITING, values);
  return {
    waiting: rows[0]?.waiting ?? 0,
    known: rows.map(({ waiting: _, ...known }) => known),
  };
}

// Of a ticket `t`, as of the local day $1.
const COLUMNS = `
  t.id AS "ticketId", t.kind::text, t.state::text, t.symptoms, t.created_at AS "createdAt",
  (SELECT max(b.reopened_at) FROM ticket_callback b WHERE b.ticket_id = t.id) AS "reopenedAt",
  ${isCallback('t.id')} AS "isCallback",
  (SELECT d.due_month::text FROM maintenance_due d WHERE d.ticket_id = t.id) AS "dueMonth",
  EXISTS (SELECT FROM site_agreement a WHERE a.site_id = t.site_id
    AND a.starts_on <= $1::date AND a.ends_on > $1::date) AS "hasAgreement",
  t.state = 'waiting_for_part' AND coalesce((SELECT p.promised_on < $1::date FROM part_wait p
    WHERE p.ticket_id = t.id ORDER BY p.recorded_at DESC, p.id DESC LIMIT 1), false)
    AS "isPromiseOverdue",
  EXISTS (SELECT FROM phone_check k WHERE k.ticket_id = t.id) AS "wasAskedByPhone",
  (SELECT json_build_object('rank', o.rank, 'reason', o.reason, 'byName', s.name,
      'at', o.created_at)
    FROM priority_override o JOIN staff s ON s.id = o.created_by_id
    WHERE o.ticket_id = t.id ORDER BY o.created_at DESC, o.id DESC LIMIT 1) AS hand`;

const KNOWN = `SELECT ${COLUMNS} FROM ticket t WHERE t.id = ANY ($2::uuid[])`;

const WAITING = `
  WITH waiting AS MATERIALIZED (
    SELECT t.*, EXISTS (SELECT FROM phone_check k WHERE k.ticket_id = t.id)
      OR EXISTS (SELECT FROM priority_override o WHERE o.ticket_id = t.id) AS is_told
    FROM ticket t WHERE t.state = ANY ($2::ticket_state[])
  ), weighed AS (
    SELECT * FROM waiting WHERE is_told
    UNION ALL
    (SELECT * FROM waiting WHERE NOT is_told ORDER BY created_at, id LIMIT $3)
  )
  SELECT ${COLUMNS}, t.number AS "ticketNumber", t.complaint, t.site_id AS "siteId",
    (SELECT count(*)::int FROM waiting) AS waiting
  FROM weighed t`;
