/** A danger as the statement below reads it; an instant inside JSON comes as text. */
export interface DangerRow {
  code: string;
  since: string;
  ticketId: string;
}

/**
 * The dangers that were told by phone of the site `s` of a statement around it, and are not over. Gas
 * is in the home, whichever call it was told on: so also on another ticket than the one that somebody
 * is sent for. A ticket that has ended has none. Its partial index finds the few tickets that have not.
 */
export const openDangersAtSite = `
  SELECT told.danger_code AS code, told.ended_at AS since, of.id AS "ticketId"
  FROM ticket of JOIN phone_check told ON told.ticket_id = of.id
  WHERE of.site_id = s.id AND of.state NOT IN ('closed', 'resolved_by_phone', 'cancelled')
    AND told.danger_code IS NOT NULL AND told.danger_over_at IS NULL`;
