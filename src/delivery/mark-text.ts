import type { Tx } from '../platform/database/database.ts';
import type { Claimed } from './claim-delivery.ts';

/** Of a text that is given up on. It is asked for anew because the old key stays with the old try. */
export const TEXT_MAY_HAVE_ARRIVED =
  'One try at it was not answered and may have arrived. Ask, and if it did not, ask for it anew.';

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
