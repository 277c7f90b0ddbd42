import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import { linkMakers } from '../quotes/index.ts';
import { holderSchema, type linkSchema } from './contract.ts';
import { type LinkWithFacts, openUntil } from './open-until.ts';

type LinkBody = z.input<typeof linkSchema>;

/** Links as the API shows them: never with their tokens, which nobody has. */
export async function answerLinks(
  prisma: Pick<Tx, 'quoteLink' | 'staff'>,
  links: readonly LinkWithFacts[],
): Promise<LinkBody[]> {
  const makerOf = await linkMakers(
    prisma,
    links.map(({ id }) => id),
  );
  return links.map((link) => {
    return {
      id: link.id,
      quoteId: link.quoteId,
      holder: holderSchema.parse(link.holder),
      holderName: link.holderPerson.name,
      madeBy: makerOf(link.id).staff,
      deliveryId: link.deliveryId,
      createdAt: link.createdAt.toISOString(),
      expiresAt: openUntil(link).toISOString(),
      revokedAt: link.revokedAt?.toISOString() ?? null,
    };
  });
}

/** One of them. */
export async function answerLink(
  prisma: Pick<Tx, 'quoteLink' | 'staff'>,
  link: LinkWithFacts,
): Promise<LinkBody> {
  const [body] = await answerLinks(prisma, [link]);
  if (body === undefined) throw new Error('one link has one answer');
  return body;
}
