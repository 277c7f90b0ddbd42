import { type Sql, sqlOf, type Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { TRIP_HOURS } from './find-trip.ts';
import { lockTechnicians } from './lock-technicians.ts';

/** Days of technicians that are about to be otherwise. */
export interface DaysToHold {
  /** Tickets whose visits are booked, moved or planned. */
  ticketIds: readonly string[];
  /** Where those visits are. */
  siteIds: readonly string[];
  technicianIds: readonly string[];
  /** From the first window to the last, also the ones that are left. */
  from: Date;
  to: Date;
}

/** The days that are otherwise when a visit is planned anew or cancelled. */
export function daysOf(visit: Visit & { ticket: { siteId: string } }): DaysToHold {
  const { ticketId, ticket, technicianId, windowStart: from, windowEnd: to } = visit;
  const technicianIds = [technicianId];
  return { ticketIds: [ticketId], siteIds: [ticket.siteId], technicianIds, from, to };
}

/** Days that are held, with every ticket that is. */
export interface HeldDays extends Pick<DaysToHold, 'technicianIds' | 'from' | 'to'> {
  ticketIds: ReadonlySet<string>;
}

/**
 * Holds some technicians' days until the transaction ends, with every ticket whose visit may come to
 * rest on another fee when they are otherwise: tickets first, by identifier, then the technicians.
 */
export async function holdDays(tx: Tx, days: DaysToHold): Promise<HeldDays> {
  const tickets = new Set([...days.ticketIds, ...(await ticketsOfTrips(sqlOf(tx), days))]);
  for (const id of [...tickets].sort()) await lockRow(tx, 'ticket', id);
  await lockTechnicians(tx, days.technicianIds);
  return { ...days, ticketIds: tickets };
}

/**
 * Makes sure that the tickets of visits which are about to be changed are held.
 * @throws an error that has the transaction run again: such a visit was booked while the days were
 *   waited for, and can no longer be waited for in order
 */
export function requireHeld(
  { ticketIds }: HeldDays,
  visits: readonly { ticketId: string }[],
): void {
  if (visits.some(({ ticketId }) => !ticketIds.has(ticketId))) throw new DaysChangedError();
}

class DaysChangedError extends Error {
  /** As the database names what is to be run again. */
  readonly code = '40001';
  override readonly message = 'a visit was booked on a trip while its days were waited for';
}

async function ticketsOfTrips(
  sql: Sql,
  { technicianIds, siteIds, from, to }: DaysToHold,
): Promise<string[]> {
  const days = [technicianIds, siteIds, from, to];
  const { rows } = await sql.query<{ ticketId: string }>(OF_TRIPS, days);
  return rows.map(({ ticketId }) => ticketId);
}

// Where one technician has two calls at one site, whether they are one trip is a matter of where
// else somebody is; at the sites that are named a second one may come.
const OF_TRIPS = `
  WITH near AS (
    SELECT v.ticket_id, v.technician_id, t.site_id, v.state
    FROM visit v JOIN ticket t ON t.id = v.ticket_id
    WHERE v.technician_id = ANY ($1::uuid[]) AND v.purpose = 'call'
      AND v.state IN ('booked', 'on_the_way', 'on_site', 'finished')
      AND v.window_start BETWEEN $3::timestamptz - interval '${TRIP_HOURS} hours'
        AND $4::timestamptz + interval '${TRIP_HOURS} hours')
  SELECT DISTINCT ticket_id AS "ticketId" FROM near
  WHERE state IN ('booked', 'on_the_way')
    AND (site_id = ANY ($2::uuid[]) OR (technician_id, site_id) IN
      (SELECT technician_id, site_id FROM near GROUP BY 1, 2 HAVING count(*) > 1))`;
