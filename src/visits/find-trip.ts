import type { Sql } from '../platform/database/database.ts';

/** A visit to be booked, as far as it decides whether it belongs to the trip of another. */
export interface TripPlace {
  siteId: string;
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  plannedStart: Date;
  plannedEnd: Date;
  /** A visit that would be given up for it, and so is no part of any trip. */
  insteadOfId?: string | undefined;
}

/** The visit whose fee is that of the trip. */
export interface TripWithFee {
  visitId: string;
  ticketNumber: number;
}

/** How far the windows of one trip may lie apart: a window is a day long at most, and so is a day. */
export const TRIP_HOURS = 49;

/**
 * The trip that a visit which is called for would belong to: the same technician is at the same site
 * for another call, on that day of the company's calendar or in a window that goes on in this one
 * over midnight, and is nowhere else in between. Who has finished there is there until the window is
 * over. Of several the nearest.
 * @param use `book` holds the visit found until the transaction ends, so that it is not cancelled
 *   meanwhile
 */
export async function findTrip(
  sql: Sql,
  { siteId, technicianId, windowStart, windowEnd, plannedStart, ...place }: TripPlace,
  use: 'tell' | 'book',
): Promise<TripWithFee | undefined> {
  const { rows } = await sql.query<TripWithFee>(use === 'book' ? `${TRIP} ${HOLD}` : TRIP, [
    ...[siteId, technicianId, windowStart, plannedStart, place.plannedEnd],
    ...[place.insteadOfId ?? null, windowEnd],
  ]);
  return rows[0];
}

// It goes on from any visit of the trip. Living work at the same time is none to go on from: nobody
// is booked over it. Where nobody was let in somebody has been all the same. A visit that was moved
// without a fee has none to lend: it rests on that of another itself. Where somebody is in between is
// looked for near the window alone, not in all that a technician ever did: twice as far, because work
// may be planned a day after its own window begins.
const TRIP = `
  SELECT a.id AS "visitId", t.number AS "ticketNumber"
  FROM visit a
  JOIN ticket t ON t.id = a.ticket_id
  WHERE t.site_id = $1 AND a.technician_id = $2
    AND a.id IS DISTINCT FROM $6::uuid AND a.purpose = 'call' AND a.same_trip_as IS NULL
    AND (a.fee_cents > 0 OR a.moved_from_id IS NULL)
    AND a.state IN ('booked', 'on_the_way', 'on_site', 'finished')
    AND a.window_start BETWEEN $3::timestamptz - interval '${TRIP_HOURS} hours'
      AND $3::timestamptz + interval '${TRIP_HOURS} hours'
    AND EXISTS (SELECT 1 FROM visit v
      WHERE (v.id = a.id OR v.same_trip_as = a.id) AND v.id IS DISTINCT FROM $6::uuid
        AND is_one_stay(v.window_start, v.window_end, $3, $7)
        AND (v.state IN ('booked', 'on_the_way', 'on_site')
            AND (coalesce(v.planned_end, v.window_end) <= $4
              OR coalesce(v.planned_start, v.window_start) >= $5
                AND coalesce(v.planned_start, v.window_start) > $4)
          OR v.state = 'finished' AND v.window_end >= $3))
    AND NOT EXISTS (SELECT 1 FROM visit b JOIN ticket elsewhere ON elsewhere.id = b.ticket_id
      WHERE b.technician_id = $2 AND elsewhere.site_id <> $1 AND b.state <> 'cancelled'
        AND b.window_start BETWEEN $3::timestamptz - interval '${2 * TRIP_HOURS} hours'
          AND $3::timestamptz + interval '${2 * TRIP_HOURS} hours'
        AND b.id IS DISTINCT FROM $6::uuid
        AND coalesce(b.planned_start, b.window_start)
          > least(coalesce(a.planned_start, a.window_start), $4)
        AND coalesce(b.planned_start, b.window_start)
          < greatest(coalesce(a.planned_start, a.window_start), $4))
  ORDER BY abs(extract(epoch FROM coalesce(a.planned_start, a.window_start) - $4)), a.id LIMIT 1`;

const HOLD = 'FOR NO KEY UPDATE OF a';
