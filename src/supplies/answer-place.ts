import type { z } from 'zod';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Prisma, StockPlace } from '../platform/database/generated/client.ts';
import { sha256 } from '../platform/sha256.ts';
import { type listedPlaceSchema, placeKind, type placeSchema } from './contract.ts';

/**
 * A place as an answer, and its tag: of what can be changed, as places have no versions of their
 * own. What lies there is not part of either, so whoever renames a truck is not stopped because a
 * part was used from it.
 */
export function answerPlace(place: StockPlace) {
  const { name, technicianId } = place;
  const etag = `"${sha256(canonicalJson({ name, technicianId })).slice(0, 32)}"`;
  return { body: placeBody(place), etag };
}

/** What is read with a place in a list: of how many parts it holds less than nothing. */
export const withShortage = {
  _count: { select: { levels: { where: { quantity: { lt: 0 } } } } },
} as const satisfies Prisma.StockPlaceInclude;

/** A place as a list shows it. */
export function listedPlace({
  _count,
  ...place
}: Prisma.StockPlaceGetPayload<{ include: typeof withShortage }>): z.input<
  typeof listedPlaceSchema
> {
  return { ...placeBody(place), partsBelowZero: _count.levels };
}

function placeBody({ kind, createdAt, ...place }: StockPlace): z.input<typeof placeSchema> {
  return { ...place, kind: placeKind.parse(kind), createdAt: createdAt.toISOString() };
}
