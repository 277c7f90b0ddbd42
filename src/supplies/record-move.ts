import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addMoves, type NewMove } from './add-moves.ts';
import { moveBody } from './answer-move.ts';
import type { movedSchema } from './contract.ts';
import { levelOf } from './level-of.ts';

export type Moved = z.output<typeof movedSchema>;

/** Records one move with its entry. */
export async function recordMove(act: ActContext, move: Omit<NewMove, 'id'>): Promise<Moved> {
  const recorded = { ...move, id: act.newId() };
  await addMoves(act, [recorded]);
  return journalMove(act, recorded);
}

/**
 * Writes the entry of a move that has been written.
 * @returns the move as it is shown, and the level it left behind
 */
export async function journalMove(act: ActContext, written: NewMove): Promise<Moved> {
  const { id, placeId, partCode, quantity, kind, visitId, otherMoveId, reason } = written;
  await appendJournal(act, {
    event: 'stock.moved',
    subject: { kind: 'stock_move', id },
    after: { placeId, partCode, quantity, kind, visitId, otherMoveId, reason },
  });
  const move = await act.tx.stockMove.findUniqueOrThrow({ where: { id } });
  return { move: moveBody(move), level: await levelOf(act, placeId, partCode) };
}
