import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/** One change of what lies at a place. */
export interface NewMove {
  id: string;
  placeId: string;
  partCode: string;
  /** Signed decimal text. */
  quantity: string;
  kind: 'billed' | 'used' | 'brought_back' | 'carried' | 'counted';
  billId?: string;
  billPosition?: number;
  visitId?: string;
  otherMoveId?: string;
  reason?: string;
}

/**
 * Writes moves; the database adds each to its level. They go in by place and part, so that two who
 * move the same goods at once wait for each other and never for each other in a circle.
 */
export async function addMoves(act: ActContext, moves: readonly NewMove[]): Promise<void> {
  await sqlOf(act.tx).query(INSERT, [JSON.stringify(moves), act.now, act.actor.id]);
}

const INSERT = `
  INSERT INTO stock_move (id, place_id, part_code, quantity, kind, bill_id, bill_position, visit_id,
    other_move_id, reason, moved_at, recorded_by_id)
  SELECT id, "placeId", "partCode", quantity, kind, "billId", "billPosition", "visitId",
    "otherMoveId", reason, $2, $3
  FROM json_to_recordset($1::json) AS move (
    id uuid, "placeId" uuid, "partCode" text, quantity numeric, kind text, "billId" uuid,
    "billPosition" int, "visitId" uuid, "otherMoveId" uuid, reason text)
  ORDER BY "placeId", "partCode"`;
