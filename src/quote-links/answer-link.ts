import type { z } from 'zod';
import { holderSchema, type linkSchema } from './contract.ts';
import { type LinkWithFacts, openUntil } from './open-until.ts';

/** A link as the API shows it: never with its token, which nobody has. */
export function answerLink(link: LinkWithFacts): z.input<typeof linkSchema> {
  return {
    id: link.id,
    quoteId: link.quoteId,
    holder: holderSchema.parse(link.holder),
    holderName: link.holderName,
    createdAt: link.createdAt.toISOString(),
    expiresAt: openUntil(link).toISOString(),
    revokedAt: link.revokedAt?.toISOString() ?? null,
  };
}
