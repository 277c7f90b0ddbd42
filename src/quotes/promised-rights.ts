import { z } from 'zod';
import { type CancelTerms, cancelTermsSchema } from '../consumer-law/index.ts';
import type { Tx } from '../platform/database/database.ts';

/** The rights to cancel that an issued paper tells of; papers of an earlier time do not keep them. */
export async function promisedRights(
  tx: Pick<Tx, 'quoteIssue'>,
  quoteId: string,
  revision: number,
): Promise<CancelTerms[]> {
  const { paper } = await tx.quoteIssue.findUniqueOrThrow({
    where: { quoteId_revision: { quoteId, revision } },
    select: { paper: true },
  });
  return keptSchema.parse(paper).cancelRights;
}

const keptSchema = z.object({ cancelRights: z.array(cancelTermsSchema).default([]) });
