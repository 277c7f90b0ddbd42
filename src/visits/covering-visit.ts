import type { Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';

/**
 * The visit whose fee covers one that was moved out of that fee's trip: it was booked without a fee
 * of its own, and has none since, because moving it for our sake never costs more. Where the visit
 * with the fee was moved in turn, the one in its place.
 * @returns undefined where no other visit covers it so, also while it is on the trip itself
 */
export async function coveringVisit(
  tx: Pick<Tx, 'visit'>,
  visit: Visit,
): Promise<Visit | undefined> {
  if (visit.sameTripAs !== null) return undefined;
  const { sameTripAs: bookedWithId } = await lastOnATrip(tx, visit);
  return bookedWithId === null ? undefined : inItsPlace(tx, bookedWithId);
}

/** Back through the moves that kept it without a fee, to where it was on the trip of another. */
async function lastOnATrip(tx: Pick<Tx, 'visit'>, visit: Visit): Promise<Visit> {
  const { purpose, feeCents, sameTripAs, movedFromId: id } = visit;
  if (sameTripAs !== null || purpose !== 'call' || feeCents > 0 || id === null) return visit;
  return lastOnATrip(tx, await tx.visit.findUniqueOrThrow({ where: { id } }));
}

async function inItsPlace(tx: Pick<Tx, 'visit'>, id: string): Promise<Visit> {
  const next = await tx.visit.findUnique({ where: { movedFromId: id }, select: { id: true } });
  return next === null ? tx.visit.findUniqueOrThrow({ where: { id } }) : inItsPlace(tx, next.id);
}
