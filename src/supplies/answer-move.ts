import type { z } from 'zod';
import type { StockMove } from '../platform/database/generated/client.ts';
import { moveSchema } from './contract.ts';

/** A move as it is shown. */
export function moveBody(row: StockMove): z.output<typeof moveSchema> {
  const { billPosition: _, ...move } = row;
  return moveSchema.parse({
    ...move,
    quantity: move.quantity.toFixed(),
    movedAt: move.movedAt.toISOString(),
  });
}
