import type { PaperLanguage, QuotePaper } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { frozenIn } from './frozen.ts';

/** The paper of a quote as it was issued, in one language; undefined where it has none. */
export async function quoteFrozen(
  tx: Pick<Tx, 'quoteIssue'>,
  { quoteId, revision }: { quoteId: string; revision: number },
  language: PaperLanguage,
): Promise<QuotePaper | undefined> {
  const issue = await tx.quoteIssue.findUniqueOrThrow({
    where: { quoteId_revision: { quoteId, revision } },
  });
  return frozenIn<QuotePaper>(issue, language);
}
