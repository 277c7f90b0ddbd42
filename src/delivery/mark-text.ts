import type { Tx } from '../platform/database/database.ts';
import type { Claimed } from './claim-delivery.ts';

/** Of a text that is given up on. It is asked for anew because the old key stays with the old try. */
export const TEXT_MAY_HAVE_ARRIVED =
  'One try at it was not answered and may have arrived. Ask, and if it did not, ask for it anew.';

/**
 * The number that an earlier try at a text may have gone to. Nothing else sets it before the text is
 * sent or given up on, so that a link which somebody revokes meanwhile takes nothing away from it.
 * @returns null when no try has
 */
export async function mayHaveGoneTo(
  tx: Pick<Tx, 'deliveryState'>,
  id: string,
): Promise<string | null> {
  const { sentTo } = await tx.deliveryState.findUniqueOrThrow({
    where: { deliveryId: id },
    select: { sentTo: true },
  });
  return sentTo;
}

/**
 * Marks a text as handed over that is about to be given up on and may have arrived. A mail is marked
 * before its end leaves; a text is not, because its gateway may be asked again.
 * @returns false when the delivery is no longer this worker's
 */
export async function markText(
  tx: Pick<Tx, 'deliveryState'>,
  { id, version }: Pick<Claimed, 'id' | 'version'>,
  now: Date,
): Promise<boolean> {
  const { count } = await tx.deliveryState.updateMany({
    where: { deliveryId: id, state: 'sending', version },
    data: { handedOverAt: now, version: version + 1, changedAt: now },
  });
  return count > 0;
}
