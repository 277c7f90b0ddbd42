import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';

/**
 * The paper whose very file we keep, by what it is and the fingerprint it was issued under.
 * @param fileHash SHA-256 of the file itself
 * @returns undefined for a file that we never handed out
 */
export async function keptFile(
  prisma: Pick<Tx, 'paperFile' | 'quoteIssue'>,
  fileHash: string,
): Promise<{ kind: string; contentHash: string } | undefined> {
  const file = await prisma.paperFile.findFirst({
    where: { sha256: fileHash },
    select: { paper: { select: tellsOf } },
  });
  if (file === null) return undefined;
  return { kind: file.paper.kind, contentHash: await contentHashOf(prisma, file.paper) };
}

const tellsOf = {
  kind: true,
  revision: { select: { quoteId: true, number: true } },
  acceptance: { select: { quoteId: true, revision: true } },
  decline: { select: { quoteId: true, revision: true } },
  invoice: { select: { contentHash: true } },
  memo: { select: { contentHash: true } },
  closing: { select: { record: { select: { contentHash: true } } } },
} as const satisfies Prisma.PaperSelect;

async function contentHashOf(
  prisma: Pick<Tx, 'quoteIssue'>,
  paper: Prisma.PaperGetPayload<{ select: typeof tellsOf }>,
): Promise<string> {
  const { revision, acceptance, decline, invoice, memo, closing } = paper;
  const quote = revision ? { ...revision, revision: revision.number } : (acceptance ?? decline);
  if (quote !== null) {
    const { quoteId } = quote;
    const issue = await prisma.quoteIssue.findUniqueOrThrow({
      where: { quoteId_revision: { quoteId, revision: quote.revision } },
      select: { contentHash: true },
    });
    return issue.contentHash;
  }
  const frozen = invoice ?? memo ?? closing?.record;
  if (!frozen) throw new Error('a paper with a file was frozen');
  return frozen.contentHash;
}
