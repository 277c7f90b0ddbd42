import { unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { isWhole } from './quantity.ts';

/**
 * Refuses quantities of something that no price book has had, and parts of a piece. A part that has
 * left the book still lies on the trucks, so any book that has taken force will do.
 * @param quantities by the field that states each
 * @throws ProblemError 400 for a part of a piece, 422 for an unknown part
 */
export async function requireStockable(
  { tx, now }: Pick<ActContext, 'tx' | 'now'>,
  code: string,
  quantities: Record<string, string>,
): Promise<void> {
  const part = await tx.priceBookPart.findFirst({
    where: { code, version: { effectiveFrom: { lte: now } } },
    orderBy: [{ version: { effectiveFrom: 'desc' } }, { version: { number: 'desc' } }],
    select: { unit: true },
  });
  if (part === null) throw unknownReference('/partCode', 'There is no such part.');
  for (const [field, quantity] of Object.entries(quantities)) {
    if (part.unit !== null || isWhole(quantity)) continue;
    throw wrongField(`/${field}`, 'not_whole', 'must be whole: this part is counted in pieces');
  }
}
