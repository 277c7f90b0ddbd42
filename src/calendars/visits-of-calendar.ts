import { openDangersAtSite } from '../phone-checks/index.ts';
import type { Sql } from '../platform/database/database.ts';

/** A visit as far as a calendar tells of it. */
export interface CalendarVisit {
  id: string;
  version: number;
  state: 'booked' | 'on_the_way' | 'on_site' | 'finished' | 'no_access' | 'cancelled';
  ticketNumber: number;
  windowStart: Date;
  windowEnd: Date;
  /** The whole window where nothing was said. */
  plannedStart: Date;
  plannedEnd: Date;
  street: string;
  unit: string | null;
  city: string;
  region: string;
  postalCode: string;
  hasAccessNotes: boolean;
  /** Nobody goes in before, as long as the visit is not over. */
  mustCallOffice: boolean;
  /** When it was booked or changed last, or its ticket’s danger was told or over. */
  changedAt: Date;
}

/** What a calendar has of the past and of what is to come. */
const DAYS_BACK = 14;
const DAYS_AHEAD = 90;

/** The visits in a technician's calendar, in the order planned. */
export async function visitsOfCalendar(
  sql: Sql,
  technicianId: string,
  now: Date,
): Promise<CalendarVisit[]> {
  const from = new Date(now.getTime() - DAYS_BACK * MS_A_DAY);
  const before = new Date(now.getTime() + DAYS_AHEAD * MS_A_DAY);
  const { rows } = await sql.query<CalendarVisit>(VISITS, [technicianId, from, before]);
  return rows;
}

const MS_A_DAY = 86_400_000;

// A window is a day long at most, and work is planned to begin in it, so the index by technician and
// window finds them.
const VISITS = `
  SELECT v.id, v.version, v.state::text AS state, t.number AS "ticketNumber",
    v.window_start AS "windowStart", v.window_end AS "windowEnd",
    coalesce(v.planned_start, v.window_start) AS "plannedStart",
    coalesce(v.planned_end, v.window_end) AS "plannedEnd",
    s.street, s.unit, s.city, s.region, s.postal_code AS "postalCode",
    s.access_notes IS NOT NULL AS "hasAccessNotes",
    v.state IN ('booked', 'on_the_way', 'on_site')
      AND EXISTS (${openDangersAtSite}) AS "mustCallOffice",
    greatest(v.created_at,
      (SELECT max(e.at) FROM journal_entry e
        WHERE e.subject_kind = 'visit' AND e.subject_id = v.id::text),
      (SELECT max(greatest(c.ended_at, c.danger_over_at)) FROM phone_check c
        WHERE c.ticket_id = t.id AND c.danger_code IS NOT NULL)) AS "changedAt"
  FROM visit v
  JOIN ticket t ON t.id = v.ticket_id
  JOIN site s ON s.id = t.site_id
  WHERE v.technician_id = $1
    AND v.window_start >= $2::timestamptz - interval '1 day' AND v.window_start < $3
    AND coalesce(v.planned_start, v.window_start) >= $2
    AND coalesce(v.planned_start, v.window_start) < $3
  ORDER BY coalesce(v.planned_start, v.window_start), v.id`;
