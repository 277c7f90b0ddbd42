import type { Doer } from '../journal/index.ts';
import { journalRevoked } from './revoke-link.ts';

/** Makes the link of a mail worthless that never arrived; one that is worthless already stays so. */
export async function revokeMailLink(doer: Doer, linkId: string): Promise<void> {
  const revoked = await doer.tx.quoteLink.updateManyAndReturn({
    where: { id: linkId, revokedAt: null },
    data: { revokedAt: doer.now },
  });
  for (const link of revoked) await journalRevoked(doer, link);
}
