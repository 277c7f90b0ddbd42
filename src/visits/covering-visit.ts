import { sqlOf, type Tx } from '../platform/database/database.ts';

/**
 * The visit whose fee covers one that was moved out of that fee's trip: it was booked without a fee
 * of its own, and has none since, because moving it for our sake never costs more. Where the visit
 * with the fee was moved in turn, the one in its place. The database tells which, as it guards it.
 * @returns its identifier; null where no other visit covers it so, also while it is on the trip
 */
export async function coveringVisitId(tx: Tx, visitId: string): Promise<string | null> {
  const { rows } = await sqlOf(tx).query<{ id: string | null }>('SELECT covering_visit($1) AS id', [
    visitId,
  ]);
  return rows[0]?.id ?? null;
}

/** Whether a visit has no fee because it was moved out of a trip whose fee another visit has. */
export async function isCoveredByAnother(tx: Tx, visitId: string): Promise<boolean> {
  return (await coveringVisitId(tx, visitId)) !== null;
}
