import { appendJournal } from '../journal/index.ts';
import { type Sql, sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { findTrip, TRIP_HOURS, type TripPlace } from './find-trip.ts';
import { type HeldDays, requireHeld } from './hold-days.ts';

/**
 * Makes one trip of visits that have become one: each was told a fee, and by what was changed nobody
 * is elsewhere between them any more. The later one loses its fee and rests on that of the other;
 * where somebody has arrived on it, the earlier one does. Parted trips stay as they are: what was
 * told binds.
 * @throws an error that has the transaction run again where a visit of it is not held
 */
export async function joinTrips(act: ActContext, days: HeldDays): Promise<void> {
  const sql = sqlOf(act.tx);
  for (;;) {
    const pair = await twoFeesOfOneTrip(sql, days);
    if (pair === undefined) return;
    await restOn(act, days, pair);
  }
}

interface VisitWithFee extends TripPlace {
  id: string;
  /** Nobody has arrived for it, nor for another visit that rests on its fee. */
  mayLose: boolean;
}

interface Pair {
  keepsId: string;
  losesId: string;
}

async function twoFeesOfOneTrip(
  sql: Sql,
  { technicianIds, from, to }: HeldDays,
): Promise<Pair | undefined> {
  const { rows } = await sql.query<VisitWithFee>(WITH_FEE, [technicianIds, from, to]);
  for (const visit of rows.filter(({ mayLose }) => mayLose)) {
    const trip = await findTrip(sql, { ...visit, insteadOfId: visit.id }, 'book');
    const other = rows.find(({ id }) => id === trip?.visitId);
    if (other !== undefined) return decided(visit, other);
  }
  return undefined;
}

function decided(visit: VisitWithFee, other: VisitWithFee): Pair {
  return other.mayLose && other.plannedStart > visit.plannedStart
    ? { keepsId: visit.id, losesId: other.id }
    : { keepsId: other.id, losesId: visit.id };
}

interface Rested {
  id: string;
  sameTripAs: string | null;
  feeCents: number;
  feeAgreement: unknown;
}

/** Takes the fee off, and has all that rested on it rest on that of the trip. */
async function restOn(act: ActContext, days: HeldDays, { keepsId, losesId }: Pair): Promise<void> {
  const resting = {
    sameTripAs: losesId,
    state: { in: ['booked' as const, 'on_the_way' as const] },
  };
  const where = { OR: [{ id: losesId }, resting] };
  requireHeld(days, await act.tx.visit.findMany({ where, select: { ticketId: true } }));
  const { rows } = await sqlOf(act.tx).query<Rested>(REST, [keepsId, losesId]);
  for (const { id, ...before } of rows) {
    await appendJournal(act, {
      event: 'visit.joined',
      subject: { kind: 'visit', id },
      before,
      after: { sameTripAs: keepsId, feeCents: 0, feeAgreement: null },
    });
  }
}

// Only where one technician has two fees at one site.
const WITH_FEE = `
  WITH near AS (
    SELECT v.*, t.site_id FROM visit v JOIN ticket t ON t.id = v.ticket_id
    WHERE v.technician_id = ANY ($1::uuid[]) AND v.purpose = 'call'
      AND v.same_trip_as IS NULL AND v.fee_cents > 0
      AND v.state IN ('booked', 'on_the_way', 'on_site', 'finished')
      AND v.window_start BETWEEN $2::timestamptz - interval '${TRIP_HOURS} hours'
        AND $3::timestamptz + interval '${TRIP_HOURS} hours')
  SELECT id, site_id AS "siteId", technician_id AS "technicianId",
    window_start AS "windowStart", window_end AS "windowEnd",
    coalesce(planned_start, window_start) AS "plannedStart",
    coalesce(planned_end, window_end) AS "plannedEnd",
    state IN ('booked', 'on_the_way') AND NOT EXISTS (SELECT 1 FROM visit r
      WHERE r.same_trip_as = near.id AND r.state IN ('on_site', 'finished')) AS "mayLose"
  FROM near
  WHERE (technician_id, site_id) IN
    (SELECT technician_id, site_id FROM near GROUP BY 1, 2 HAVING count(*) > 1)
  ORDER BY 6, id`;

// In one statement, so that the database looks at them when all of them rest there. It takes the fee
// off itself.
const REST = `
  UPDATE visit v SET same_trip_as = $1, version = v.version + 1
  FROM (SELECT * FROM visit
    WHERE id = $2 OR same_trip_as = $2 AND state IN ('booked', 'on_the_way')) was
  WHERE v.id = was.id
  RETURNING v.id, was.same_trip_as AS "sameTripAs", was.fee_cents AS "feeCents",
    was.fee_agreement AS "feeAgreement"`;
