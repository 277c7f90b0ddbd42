import { type DangerRow, openDangersAtSite } from '../phone-checks/index.ts';
import type { Place } from '../planning/index.ts';
import type { Sql } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { type HouseholdRow, householdColumns } from './household-of.ts';

/** A visit with all that a card shows of it. */
export interface VisitRow extends HouseholdRow {
  visitId: string;
  version: number;
  ticketId: string;
  ticketNumber: number;
  siteId: string;
  technicianId: string;
  purpose: string;
  state: 'booked' | 'on_the_way' | 'on_site' | 'finished' | 'no_access';
  complaint: string;
  symptoms: string[];
  window: { start: Date; end: Date };
  /** The whole window where nothing was said. */
  planned: { start: Date; end: Date };
  arrivedAt: Date | null;
  /** Since when somebody is on the way there; null for any other state. */
  onTheWaySince: Date | null;
  /** Told of the home and not over; none once the visit is over. */
  openDangers: { code: string; since: string; ticketId: string }[];
  feeCents: number;
  feeAgreement: Visit['feeAgreement'];
  /** Of the site itself; null where nobody placed it. */
  place: Place | null;
}

/** When, and whose; everybody's unless told. */
export interface VisitsWanted {
  from: Date;
  before: Date;
  technicianId: string | undefined;
}

/** The visits whose work is planned to begin in a span, in that order, by one statement. */
export async function visitsPlanned(
  sql: Sql,
  { from, before, technicianId }: VisitsWanted,
): Promise<VisitRow[]> {
  const { rows } = await sql.query<StoredRow>(PLANNED, [from, before, technicianId ?? null]);
  return rows.map(({ windowStart, windowEnd, plannedStart, plannedEnd, dangers, ...row }) => ({
    ...row,
    window: { start: windowStart, end: windowEnd },
    planned: { start: plannedStart, end: plannedEnd },
    openDangers: (dangers ?? []).map(({ since, ...danger }) => ({
      ...danger,
      since: new Date(since).toISOString(),
    })),
    place: placeOf(row),
  }));
}

interface StoredRow extends Omit<VisitRow, 'window' | 'planned' | 'openDangers' | 'place'> {
  windowStart: Date;
  windowEnd: Date;
  plannedStart: Date;
  plannedEnd: Date;
  latitudeDeg: number | null;
  longitudeDeg: number | null;
  dangers: DangerRow[] | null;
}

function placeOf({ latitudeDeg, longitudeDeg }: Pick<StoredRow, 'latitudeDeg' | 'longitudeDeg'>) {
  return latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg };
}

// A window is a day long at most, and work is planned to begin in it, so the index by technician and
// window finds them. Since when somebody is on the way, the journal tells.
const PLANNED = `
  SELECT v.id AS "visitId", v.version, v.ticket_id AS "ticketId", t.number AS "ticketNumber",
    s.id AS "siteId", v.technician_id AS "technicianId", v.purpose, v.state::text AS state,
    t.complaint, t.symptoms, v.window_start AS "windowStart", v.window_end AS "windowEnd",
    coalesce(v.planned_start, v.window_start) AS "plannedStart",
    coalesce(v.planned_end, v.window_end) AS "plannedEnd", v.arrived_at AS "arrivedAt",
    CASE WHEN v.state = 'on_the_way' THEN
      (SELECT max(e.at) FROM journal_entry e WHERE e.subject_kind = 'visit'
        AND e.subject_id = v.id::text AND e.event = 'visit.moved') END AS "onTheWaySince",
    CASE WHEN v.state IN ('booked', 'on_the_way', 'on_site') THEN
      (SELECT json_agg(danger ORDER BY danger.since, danger."ticketId")
        FROM (${openDangersAtSite}) danger) END AS dangers,
    v.fee_cents AS "feeCents", v.fee_agreement AS "feeAgreement",
    s.latitude_deg AS "latitudeDeg", s.longitude_deg AS "longitudeDeg", ${householdColumns}
  FROM staff w
  JOIN visit v ON v.technician_id = w.id
  JOIN ticket t ON t.id = v.ticket_id
  JOIN site s ON s.id = t.site_id
  JOIN customer o ON o.id = s.occupant_id
  WHERE w.role = 'technician' AND ($3::uuid IS NULL OR w.id = $3)
    AND v.window_start >= $1::timestamptz - interval '1 day' AND v.window_start < $2
    AND coalesce(v.planned_start, v.window_start) >= $1
    AND coalesce(v.planned_start, v.window_start) < $2
    AND v.state <> 'cancelled'
  ORDER BY coalesce(v.planned_start, v.window_start), v.id`;
