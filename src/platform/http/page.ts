import { z } from 'zod';
import { canonicalJson } from '../canonical-json.ts';
import { sha256 } from '../sha256.ts';
import { ProblemError } from './problem.ts';

/** The query fields of every list. A limit that is too large is taken as the largest. */
export const pageQuery = {
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .default(25)
    .transform((limit) => Math.min(limit, 100))
    .meta({ description: 'How many at most: 25 unless told, never more than 100.' }),
  cursor: z.string().max(300).optional().meta({ description: 'From `nextCursor`.' }),
};

/** The query field of lists that can be read from either end; it belongs to a cursor's filter. */
export const orderQuery = {
  order: z.enum(['oldest', 'newest']).default('oldest').meta({
    description: 'Which comes first, by when it was made.',
  }),
};
export type Order = 'oldest' | 'newest';

/** How the typed client reads on after an identifier, in either order. */
export function readOn(order: Order, after: string | undefined) {
  const isOldest = order === 'oldest';
  return {
    where: after === undefined ? {} : { id: isOldest ? { gt: after } : { lt: after } },
    orderBy: { id: isOldest ? 'asc' : 'desc' },
  } as const;
}

/** A statement for each order; `beyond` and `sort` are how it reads on after an identifier. */
export function inEitherOrder(
  statement: (beyond: '>' | '<', sort: 'ASC' | 'DESC') => string,
): Record<Order, string> {
  return { oldest: statement('>', 'ASC'), newest: statement('<', 'DESC') };
}

/** A page of a list; `nextCursor` is null on the last one. */
export function pageOf<T extends z.ZodType>(item: T) {
  return z.strictObject({ items: z.array(item), nextCursor: z.string().nullable() });
}

/** What a list shows: its own name and its filter. A cursor belongs to exactly one. */
export interface Listing {
  list: string;
  [filter: string]: unknown;
}

/**
 * The identifier a page starts after. Identifiers are ordered by time, so paging by them neither
 * skips nor repeats an old row while new ones arrive.
 * @throws ProblemError 400 for a cursor that this list did not give for this filter
 */
export function startAfter(cursor: string | undefined, listing: Listing): string | undefined {
  return startAfterKey(cursor, listing, z.uuid());
}

/** As `startAfter`, for lists in the order of another key than the identifier. */
export function startAfterKey(
  cursor: string | undefined,
  listing: Listing,
  keySchema: z.ZodType<string>,
): string | undefined {
  if (cursor === undefined) return undefined;
  const key = keySchema.safeParse(keyIn(cursor)).data;
  // Making the cursor again finds every alteration, also one that reads the same when decoded.
  if (key === undefined || cursorTo(key, listing) !== cursor) {
    throw new ProblemError('cursor-invalid', 'This cursor was not made for this list.');
  }
  return key;
}

interface Page<T> {
  items: T[];
  nextCursor: string | null;
}

/**
 * Cuts one page out of rows that were read with one row more than the limit.
 */
export function cutPage<T extends { id: string }>(
  rows: T[],
  limit: number,
  listing: Listing,
): Page<T> {
  return cutPageByKey(rows, limit, listing, ({ id }) => id);
}

/** As `cutPage`, for lists in the order of another key than the identifier. */
export function cutPageByKey<T>(
  rows: T[],
  limit: number,
  listing: Listing,
  keyOf: (row: T) => string,
): Page<T> {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  if (rows.length <= limit || last === undefined) return { items, nextCursor: null };
  return { items, nextCursor: cursorTo(keyOf(last), listing) };
}

const cursorSchema = z.tuple([z.string(), z.string()]);

// The check is no secret: a cursor opens nothing that its list would not show anyway. It keeps a
// cursor from being used where it would silently skip rows.
function cursorTo(key: string, listing: Listing): string {
  const check = sha256(canonicalJson({ listing, key })).slice(0, 16);
  return Buffer.from(JSON.stringify([key, check])).toString('base64url');
}

function keyIn(cursor: string): string | undefined {
  try {
    const decoded: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    return cursorSchema.safeParse(decoded).data?.[0];
  } catch {
    return undefined;
  }
}
