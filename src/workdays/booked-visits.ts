import type { Sql } from '../platform/database/database.ts';

/** A visit as far as it takes a technician's time, or took it. */
export interface BookedVisit {
  readonly id: string;
  readonly version: number;
  readonly ticketId: string;
  readonly siteId: string;
  readonly technicianId: string;
  readonly state: 'booked' | 'on_the_way' | 'on_site' | 'finished';
  readonly windowStart: Date;
  readonly windowEnd: Date;
  /** The whole window where nothing was said. */
  readonly plannedStart: Date;
  readonly plannedEnd: Date;
  readonly arrivedAt: Date | null;
  /** Since when it is in this state; null for one that was only booked. */
  readonly since: Date | null;
  /** The visit with whose trip it shares a fee, whichever of the two has it. */
  readonly tripId: string | null;
}

/**
 * The visits of everybody whose work is planned between two instants, by one statement. Those that
 * were cancelled, or came to nothing, take nobody's time.
 */
export async function bookedVisits(sql: Sql, from: Date, before: Date): Promise<BookedVisit[]> {
  const { rows } = await sql.query<BookedVisit>(BOOKED, [from, before]);
  return rows;
}

// A window is a day long at most, and work is planned to begin in it: so the index by technician
// and window finds them. Since when it is so, the journal tells.
const BOOKED = `
  SELECT v.id, v.version, v.ticket_id AS "ticketId", t.site_id AS "siteId",
    v.technician_id AS "technicianId", v.state::text AS state,
    v.window_start AS "windowStart", v.window_end AS "windowEnd",
    coalesce(v.planned_start, v.window_start) AS "plannedStart",
    coalesce(v.planned_end, v.window_end) AS "plannedEnd",
    v.arrived_at AS "arrivedAt",
    CASE WHEN v.state = 'booked' THEN NULL ELSE
      (SELECT max(e.at) FROM journal_entry e WHERE e.subject_kind = 'visit'
        AND e.subject_id = v.id::text AND e.event = 'visit.moved') END AS since,
    coalesce(v.same_trip_as, (SELECT v.id FROM visit o WHERE o.same_trip_as = v.id
      AND o.state IN ('booked', 'on_the_way', 'on_site') LIMIT 1)) AS "tripId"
  FROM staff s
  JOIN visit v ON v.technician_id = s.id
  JOIN ticket t ON t.id = v.ticket_id
  WHERE v.window_start >= $1::timestamptz - interval '1 day' AND v.window_start < $2
    AND coalesce(v.planned_start, v.window_start) >= $1
    AND coalesce(v.planned_start, v.window_start) < $2
    AND v.state IN ('booked', 'on_the_way', 'on_site', 'finished')
  ORDER BY coalesce(v.planned_start, v.window_start), v.id`;
