import { type Paper, type PaperLanguage, paperRenderer } from '../documents/index.ts';
import { appendJournal } from '../journal/index.ts';
import { type Database, sqlOf, type Tx } from '../platform/database/database.ts';
import type { PrismaClient } from '../platform/database/generated/client.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { sha256 } from '../platform/sha256.ts';
import { sealPaper } from '../proof/index.ts';
import { contentOf } from './content-of.ts';
import { fileName } from './file-name.ts';
import type { PaperDesk } from './paper-desk.ts';
import { type PaperRow, paperRow } from './paper-row.ts';

/** What it takes to make and keep a file: nobody in particular does it. */
export interface PaperContext {
  prisma: PrismaClient;
  db: Pick<Database, 'transact'>;
  now: Date;
  newId(): string;
  requestId?: string;
  papers: PaperDesk;
}

/** A stored file of a paper, ready to be sent. */
export interface StoredFile {
  bytes: Uint8Array;
  sha256: string;
  fileName: string;
}

/**
 * The PDF of a paper in one language. It is drawn and signed once, when it is first asked for, and
 * kept under its own hash: whatever draws papers later, this one stays as it was handed out.
 * @throws ProblemError 404 for a paper that is not there, or was not issued in that language; 503
 *   while too many papers are being drawn
 */
export async function fileOf(
  context: PaperContext,
  paperId: string,
  language: PaperLanguage,
): Promise<StoredFile> {
  const row = await paperRow(context.prisma, paperId);
  const known = await keptFile(context.prisma, row, language);
  if (known !== undefined) return known;
  const { making } = context.papers;
  const name = `${paperId} ${language}`;
  const begun = making.get(name);
  if (begun !== undefined) return begun;
  const made = makeFile(context, row, language).finally(() => making.delete(name));
  making.set(name, made);
  return made;
}

async function keptFile(
  prisma: Pick<Tx, 'paperFile'>,
  row: PaperRow,
  language: PaperLanguage,
): Promise<StoredFile | undefined> {
  const kept = await prisma.paperFile.findUnique({
    where: { paperId_language: { paperId: row.id, language } },
    include: { document: true },
  });
  return (
    kept?.document && {
      bytes: kept.document.bytes,
      sha256: kept.sha256,
      fileName: fileName(row, language),
    }
  );
}

/**
 * No transaction is open while the press draws. What another process kept meanwhile is the file that
 * was handed out, and then this one is nowhere.
 */
async function makeFile(
  context: PaperContext,
  row: PaperRow,
  language: PaperLanguage,
): Promise<StoredFile> {
  const paper = await contentOf(context, row, language);
  if (paper === undefined) {
    throw new ProblemError(
      'not-found',
      'This paper was issued in English alone. Ask for it with `language=en`.',
    );
  }
  const bytes = await drawSealed(context.papers, row, paper, language);
  await keep(context, row, language, bytes);
  const kept = await keptFile(context.prisma, row, language);
  if (kept === undefined) throw new Error(`a file of paper ${row.id} was not kept`);
  return kept;
}

async function drawSealed(
  { press, key, publicUrl }: PaperDesk,
  { number }: PaperRow,
  paper: Paper,
  language: PaperLanguage,
): Promise<Uint8Array> {
  const draw = (sheet: Parameters<typeof press.draw>[0]) => press.draw(sheet);
  const pageUrl = pageUrlOf(publicUrl(), paper);
  const { bytes } = await sealPaper({ paper, number, language, pageUrl, key, draw });
  return bytes;
}

/** Where anybody can look up what was issued under the fingerprint of a paper. */
function pageUrlOf(publicUrl: string | undefined, { paper }: Paper): string | undefined {
  if (publicUrl === undefined || paper.contentHash === undefined) return undefined;
  return `${publicUrl.replace(/\/$/, '')}/paper/${paper.contentHash}`;
}

async function keep(
  context: PaperContext,
  { id: paperId, kind }: PaperRow,
  language: PaperLanguage,
  bytes: Uint8Array,
): Promise<void> {
  const hash = sha256(bytes);
  const { now, newId, requestId } = context;
  const renderer = paperRenderer;
  await inTx(context.db, async (tx) => {
    // Another process may be about to keep a file of the same paper: it is waited for here, so that
    // no bytes are stored that nobody is handed.
    await sqlOf(tx).query(LOCK, [`${paperId} ${language}`]);
    const file = { paperId, language };
    if ((await tx.paperFile.count({ where: file })) > 0) return;
    await tx.document.createMany({
      data: [
        {
          ...{ sha256: hash, kind, language, renderer },
          ...{ mediaType: 'application/pdf', bytes: new Uint8Array(bytes), createdAt: now },
        },
      ],
      skipDuplicates: true,
    });
    await tx.paperFile.create({ data: { ...file, renderer, sha256: hash } });
    await appendJournal(
      { tx, now, newId, ...(requestId !== undefined && { requestId }) },
      {
        event: 'paper.rendered',
        subject: { kind: 'paper', id: paperId },
        after: { kind, language, renderer, sha256: hash },
      },
    );
  });
}

const LOCK = 'SELECT pg_advisory_xact_lock(hashtextextended($1, 0))';
