import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import { holderSchema } from './contract.ts';
import { hashOfToken } from './link-token.ts';

/** A link that opens its page. */
export interface LivingLink {
  id: string;
  quoteId: string;
  holder: z.output<typeof holderSchema>;
  holderName: string;
}

/**
 * The link of a token, if it opens anything now. One that never was, one that ran out and one that
 * was revoked are the same: undefined, after the same one look into the database.
 */
export async function linkOf(
  prisma: Pick<Tx, 'quoteLink'>,
  token: string,
  now: Date,
): Promise<LivingLink | undefined> {
  const link = await prisma.quoteLink.findUnique({ where: { tokenHash: hashOfToken(token) } });
  if (link === null || link.revokedAt !== null || link.expiresAt <= now) return undefined;
  const { id, quoteId, holderName } = link;
  return { id, quoteId, holder: holderSchema.parse(link.holder), holderName };
}
