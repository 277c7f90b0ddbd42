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

/** A page of a list; `nextCursor` is null on the last one. */
export function pageOf<T extends z.ZodType>(item: T) {
  return z.strictObject({ items: z.array(item), nextCursor: z.string().nullable() });
}

/**
 * The identifier a page starts after. Identifiers are ordered by time, so paging by them neither
 * skips nor repeats an old row while new ones arrive.
 * @param filter the list's filter: a cursor made for another one is refused
 * @throws ProblemError 400 for a cursor this API did not make for this filter
 */
export function startAfter(cursor: string | undefined, filter: object): string | undefined {
  if (cursor === undefined) return undefined;
  const parsed = cursorSchema.safeParse(decode(cursor));
  if (!parsed.success || parsed.data[1] !== filterHash(filter)) {
    throw new ProblemError('cursor-invalid', 'This cursor was not made for this list.');
  }
  return parsed.data[0];
}

/**
 * Cuts one page out of rows that were read with one row more than the limit.
 */
export function cutPage<T extends { id: string }>(
  rows: T[],
  limit: number,
  filter: object,
): { items: T[]; nextCursor: string | null } {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  if (rows.length <= limit || last === undefined) return { items, nextCursor: null };
  return { items, nextCursor: encode([last.id, filterHash(filter)]) };
}

const cursorSchema = z.tuple([z.uuid(), z.string()]);

function encode(value: unknown): string {
  return Buffer.from(JSON.stringify(value)).toString('base64url');
}

function decode(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return undefined;
  }
}

function filterHash(filter: object): string {
  return sha256(canonicalJson(filter)).slice(0, 16);
}
