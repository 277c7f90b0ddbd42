import type { Tx } from '../platform/database/database.ts';

/**
 * Whether a delivery has a link that was not made worthless, beside the one that is given: some try
 * at it may have arrived.
 */
export async function hasOpenMailLink(
  tx: Pick<Tx, 'quoteLink'>,
  deliveryId: string,
  beside?: string,
): Promise<boolean> {
  const open = await tx.quoteLink.findFirst({
    where: { deliveryId, revokedAt: null, ...(beside !== undefined && { id: { not: beside } }) },
    select: { id: true },
  });
  return open !== null;
}
