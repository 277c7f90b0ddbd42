import type { z } from 'zod';
import { hashOfToken } from '../platform/access/token.ts';
import type { Tx } from '../platform/database/database.ts';
import { holderSchema } from './contract.ts';
import { openFacts, openUntil } from './open-until.ts';

/** A link that opens its page. */
export interface LivingLink {
  id: string;
  quoteId: string;
  quoteNumber: number;
  holder: z.output<typeof holderSchema>;
  /** Whom it was made for. Somebody else may have taken that place at the site since. */
  holderId: string;
  holderName: string;
  holderLanguage: string;
  opensUntil: Date;
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
  const link = await prisma.quoteLink.findUnique({
    where: { tokenHash: hashOfToken(token) },
    include: openFacts,
  });
  if (link === null || link.revokedAt !== null) return undefined;
  const opensUntil = openUntil(link);
  if (opensUntil <= now) return undefined;
  return {
    id: link.id,
    quoteId: link.quoteId,
    quoteNumber: link.quote.number,
    holder: holderSchema.parse(link.holder),
    holderId: link.holderId,
    holderName: link.holderPerson.name,
    holderLanguage: link.holderPerson.language,
    opensUntil,
  };
}
