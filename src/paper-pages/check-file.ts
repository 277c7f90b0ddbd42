import { paperKeys } from '../papers/index.ts';
import type { Database, Tx } from '../platform/database/database.ts';
import { sha256 } from '../platform/sha256.ts';
import type { ProofVerdict, Verifier } from '../proof/index.ts';
import { type IssuedPaper, issuedPapers } from './issued-papers.ts';
import { keptFile } from './kept-file.ts';

/** What is known of a file. */
export type CheckedFile =
  /** We keep the very same file, so nothing has to be read in it. */
  | { outcome: 'kept'; paper: IssuedPaper; found: Found }
  /** It was read, and held against the keys. */
  | { outcome: 'read'; verdict: ProofVerdict; found: Found | undefined };

/** What was issued under the fingerprint that the file goes by. */
export interface Found {
  contentHash: string;
  papers: readonly IssuedPaper[];
}

/**
 * Says what a file is worth. One that we keep is known by its bytes; any other is read by the
 * verifier. It is looked at and let go of: nothing of it is stored.
 * @throws ProblemError 503 while too many files wait, or when whoever asked is gone
 */
export async function checkFile(
  { db, verifier, now }: { db: Database; verifier: Verifier; now: Date },
  bytes: Uint8Array,
  signal: AbortSignal,
): Promise<CheckedFile> {
  const { prisma } = db;
  const kept = await keptFile(prisma, sha256(bytes));
  if (kept === undefined) {
    const verdict = await verifier.verify(bytes, await paperKeys(db), signal);
    return { outcome: 'read', verdict, found: await foundUnder(prisma, signedHash(verdict), now) };
  }
  const found = await foundUnder(prisma, kept.contentHash, now);
  const paper = found?.papers.find(({ kind }) => kind === kept.kind);
  if (found === undefined || paper === undefined) {
    throw new Error('a file that we keep is of a paper that we issued');
  }
  return { outcome: 'kept', paper, found };
}

async function foundUnder(
  prisma: Tx,
  contentHash: string | undefined,
  now: Date,
): Promise<Found | undefined> {
  if (contentHash === undefined) return undefined;
  const papers = await issuedPapers(prisma, contentHash, now);
  return papers.length === 0 ? undefined : { contentHash, papers };
}

/** The fingerprint in the data of a file, where it was us who signed them. */
function signedHash(verdict: ProofVerdict): string | undefined {
  if (!('paper' in verdict)) return undefined;
  const isSigned = verdict.verdict !== 'altered' || verdict.signature === 'good';
  return isSigned ? verdict.paper.contentHash : undefined;
}
