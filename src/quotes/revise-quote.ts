import type { z } from 'zod';
import type { ActContext } from '../platform/http/route.ts';
import type { revisionRequestSchema } from './contract.ts';
import { lockQuote } from './lock-quote.ts';
import { makeRevision } from './make-revision.ts';

/**
 * Makes the next revision of a quote as a draft, from options chosen anew.
 * @throws ProblemError 409 for a quote that was answered or withdrawn
 */
export async function reviseQuote(
  act: ActContext,
  quoteId: string,
  input: z.output<typeof revisionRequestSchema>,
): Promise<void> {
  await makeRevision(act, quoteId, await lockQuote(act, quoteId), input.options);
}
