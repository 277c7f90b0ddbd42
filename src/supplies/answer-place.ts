import type { z } from 'zod';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { sha256 } from '../platform/sha256.ts';
import { placeSchema } from './contract.ts';

/** What is read with a place: of how many parts it holds less than nothing. */
export const withShortage = {
  _count: { select: { levels: { where: { quantity: { lt: 0 } } } } },
} as const satisfies Prisma.StockPlaceInclude;

export type PlaceWithShortage = Prisma.StockPlaceGetPayload<{ include: typeof withShortage }>;

/** A place as an answer, and its tag: of what it says, as places have no versions of their own. */
export function answerPlace(place: PlaceWithShortage) {
  const body = placeBody(place);
  return { body, etag: `"${sha256(canonicalJson(body)).slice(0, 32)}"` };
}

/** A place as it is shown. */
export function placeBody({ _count, ...place }: PlaceWithShortage): z.output<typeof placeSchema> {
  return placeSchema.parse({
    ...place,
    partsBelowZero: _count.levels,
    createdAt: place.createdAt.toISOString(),
  });
}
