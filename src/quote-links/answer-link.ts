import type { z } from 'zod';
import type { QuoteLink } from '../platform/database/generated/client.ts';
import { holderSchema, type linkSchema } from './contract.ts';

/** A link as the API shows it: never with its token, which nobody has. */
export function answerLink(link: QuoteLink): z.input<typeof linkSchema> {
  return {
    id: link.id,
    quoteId: link.quoteId,
    holder: holderSchema.parse(link.holder),
    holderName: link.holderName,
    createdAt: link.createdAt.toISOString(),
    expiresAt: link.expiresAt.toISOString(),
    revokedAt: link.revokedAt?.toISOString() ?? null,
  };
}
