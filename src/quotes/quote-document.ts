import { type PaperLanguage, paperRenderer, renderQuotePaper } from '../documents/index.ts';
import { appendJournal } from '../journal/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { BytesContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import type { UnhashedPaper } from './compose-paper.ts';
import type { FrozenPaper } from './quote-paper-of.ts';
import { readQuote } from './read-quote.ts';

const KIND = 'quote';
const FILE_NAMES: Record<PaperLanguage, string> = { en: 'quote', es: 'presupuesto' };

/** Which paper of a quote: of its latest revision, and in English, unless asked otherwise. */
interface WantedPaper {
  revision?: number | undefined;
  language?: PaperLanguage | undefined;
}

/** A stored paper, ready to be sent. */
export interface StoredPaper {
  bytes: Uint8Array;
  sha256: string;
  fileName: string;
}

/**
 * The PDF of an issued revision. It is rendered once, on the first request, and kept under its own
 * hash; rendering is deterministic, so two first requests at once make the same bytes.
 * @throws ProblemError 404 for an unknown quote or revision, or one issued without that language;
 *   409 for a revision never issued
 */
export async function quoteDocument(
  context: BytesContext,
  quoteId: string,
  { revision, language = 'en' }: WantedPaper = {},
): Promise<StoredPaper> {
  const { body } = await readQuote(context.prisma, context, quoteId, revision);
  if (body.contentHash === null) {
    throw new ProblemError('not-allowed-now', 'Only an issued quote has a paper.', {
      currentState: body.state,
      allowedActions: body.allowedActions,
    });
  }
  const issued = { quoteId, number: body.number, revision: body.revision };
  return issuedDocument(context, issued, language);
}

/** What it takes to render and keep a paper: nobody in particular does it. */
export type PaperContext = Pick<BytesContext, 'prisma' | 'db' | 'now' | 'newId' | 'requestId'>;

/**
 * The same for whoever was shown the quote and is not one of our staff.
 * @param issued a revision that has been issued
 * @throws ProblemError 404 when it was issued without that language
 */
export async function issuedDocument(
  context: PaperContext,
  issued: { quoteId: string; number: number; revision: number },
  language: PaperLanguage = 'en',
): Promise<StoredPaper> {
  const { quoteId } = issued;
  const revision = await context.prisma.quoteRevision.findUnique({
    where: { quoteId_number: { quoteId, number: issued.revision } },
  });
  if (revision === null) throw notFound('revision');
  const key = { revisionId: revision.id, kind: KIND, language, renderer: paperRenderer };
  // Whatever drew it then: a paper that was handed out is never drawn again by a newer hand.
  const known = await context.prisma.quotePaper.findFirst({
    where: { revisionId: revision.id, kind: KIND, language },
    include: { document: true },
  });
  const bytes =
    known?.document.bytes ?? (await renderAndKeep(context, quoteId, issued.revision, key));
  const fileName = `${FILE_NAMES[language]}-${issued.number}-r${issued.revision}.pdf`;
  return { bytes, sha256: sha256(bytes), fileName };
}

/**
 * What this program froze when it issued the revision. Both languages are under the one hash; a
 * quote of an earlier time has English alone.
 */
function frozenIn(language: PaperLanguage, stored: unknown): UnhashedPaper | undefined {
  const frozen = stored as UnhashedPaper & Partial<FrozenPaper>;
  const { inSpanish, cancelRights: _rights, ...english } = frozen;
  return language === 'en' ? english : inSpanish;
}

async function renderAndKeep(
  context: PaperContext,
  quoteId: string,
  revision: number,
  key: { revisionId: string; kind: string; language: PaperLanguage; renderer: string },
): Promise<Uint8Array> {
  const issue = await context.prisma.quoteIssue.findUniqueOrThrow({
    where: { quoteId_revision: { quoteId, revision } },
  });
  const frozen = frozenIn(key.language, issue.paper);
  if (frozen === undefined) throw notFound('paper');
  const paper = { ...frozen, contentHash: issue.contentHash };
  const bytes = new Uint8Array(await renderQuotePaper(paper));
  const hash = sha256(bytes);
  await inTx(context.db, async (tx) => {
    await tx.document.createMany({
      data: [
        {
          sha256: hash,
          kind: KIND,
          language: key.language,
          renderer: key.renderer,
          mediaType: 'application/pdf',
          bytes,
          createdAt: context.now,
        },
      ],
      skipDuplicates: true,
    });
    const kept = await tx.quotePaper.createMany({
      data: [{ ...key, sha256: hash }],
      skipDuplicates: true,
    });
    if (kept.count === 0) return; // Another first request kept the same bytes.
    await appendJournal(
      { tx, now: context.now, newId: context.newId, requestId: context.requestId },
      {
        event: 'quote.rendered',
        subject: { kind: 'quote', id: quoteId },
        after: {
          revision,
          kind: KIND,
          language: key.language,
          renderer: key.renderer,
          sha256: hash,
        },
      },
    );
  });
  return bytes;
}
