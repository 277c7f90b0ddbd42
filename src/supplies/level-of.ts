import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/** What should lie at a place by the moves so far; nothing where none ever went. */
export async function levelOf(
  { tx }: Pick<ActContext, 'tx'>,
  placeId: string,
  partCode: string,
): Promise<string> {
  const found = await sqlOf(tx).query<{ level: string }>(LEVEL, [placeId, partCode]);
  return found.rows[0]?.level ?? '0';
}

const LEVEL = `
  SELECT trim_scale(quantity)::text AS level FROM stock_level
  WHERE place_id = $1 AND part_code = $2`;
