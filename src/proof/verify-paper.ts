import { type PaperSheet, paperRenderer, renderPaper } from '../documents/index.ts';
import { addedAttachments } from './added-attachments.ts';
import { compareBySight, type Sight } from './compare-by-sight.ts';
import { mostTelling } from './find-differences.ts';
import type { KeySet } from './key-set.ts';
import { PAPER_BYTES_MAX } from './paper-bytes-max.ts';
import { dataNames, type PaperData, readPaperData } from './paper-data.ts';
import { attachmentsOf, type FoundAttachment } from './pdf/attachments-of.ts';
import { pagesDigest } from './pdf/pages-digest.ts';
import { TooLargeUnpacked } from './pdf/pdf-value.ts';
import { readStrictly } from './pdf/read-strictly.ts';
import { startsSomething } from './pdf/starts-something.ts';
import type { Difference, ProofVerdict, ProvenPaper, UnreadableCause } from './proof-verdict.ts';
import { FileLocked, readSeenAttachments } from './read-seen-file.ts';
import { sealedSheet } from './seal-paper.ts';
import { startsAsPdf } from './starts-as-pdf.ts';
import { type SignatureCheck, verifyDetached } from './verify-detached.ts';

/**
 * Says what a file is worth as a paper of ours. The data inside are checked against the published
 * keys and drawn again; a file equal to that drawing to the byte is genuine. Otherwise the file is
 * read the one strict way and what it shows is held against what was signed, and where that fails
 * too, both files are read as a browser reads them and every difference is told.
 *
 * Reading a stranger's file can take any amount of time and memory: `verifyBeside` bounds both.
 */
export async function verifyPaper(bytes: Uint8Array, keys: KeySet): Promise<ProofVerdict> {
  if (bytes.length > PAPER_BYTES_MAX) return unreadable('too_large');
  if (!startsAsPdf(bytes)) return unreadable('not_a_pdf');
  try {
    return await verifyReadable(bytes, keys);
  } catch (error) {
    if (error instanceof FileLocked) return unreadable('locked');
    if (error instanceof TooLargeUnpacked) return unreadable('too_large');
    return unreadable('damaged');
  }
}

async function verifyReadable(bytes: Uint8Array, keys: KeySet): Promise<ProofVerdict> {
  const strict = lookStrictly(bytes);
  const attachments = strict?.attachments ?? (await readSeenAttachments(bytes));
  const proof = bestProof(attachments, keys);
  if (proof === undefined) return { verdict: 'not_ours' };
  const { data, dataBytes, signature, check } = proof;
  if (check.outcome === 'unknown_key') return { verdict: 'unknown_key', kid: check.kid };
  const paper = provenPaper(data, check.kid);
  const sheet = sealedSheet(data, dataBytes, signature);
  const drawn = await drawIfPossible(sheet);
  const added = addedAttachments(attachments, sheet.attachments);
  if (check.outcome === 'good') {
    if (drawn !== undefined && Buffer.compare(drawn, bytes) === 0) {
      return { verdict: 'genuine', paper };
    }
    if (strict?.pagesSha256 === data.pagesSha256 && added.length === 0) {
      return { verdict: 'same_pages', paper };
    }
  }
  const known: Difference[] = added.map(({ name }) => ({ kind: 'attachment_added', name }));
  if (strict?.startsSomething) known.push({ kind: 'script' });
  const sight = await compareBySight(bytes, drawn, known);
  if (check.outcome === 'bad') return altered(paper, 'bad', sight.differences);
  return judgeBySight(paper, sight);
}

interface StrictSight {
  attachments: FoundAttachment[];
  pagesSha256: string;
  startsSomething: boolean;
}

/** What the strict reader sees, or nothing where it refuses the file. */
function lookStrictly(bytes: Uint8Array): StrictSight | undefined {
  try {
    const pdf = readStrictly(bytes);
    return {
      attachments: attachmentsOf(pdf),
      pagesSha256: pagesDigest(pdf),
      startsSomething: startsSomething(pdf),
    };
  } catch (error) {
    // A file that unpacks without end must not reach the lenient reader, which has no bound.
    if (error instanceof TooLargeUnpacked) throw error;
    return undefined;
  }
}

interface FoundProof {
  data: PaperData;
  dataBytes: Uint8Array;
  signature: Uint8Array;
  check: Exclude<SignatureCheck, { outcome: 'not_ours' }>;
}

/** A file may carry several pairs; what is signed with a known key counts before what is not. */
function bestProof(attachments: readonly FoundAttachment[], keys: KeySet): FoundProof | undefined {
  const proofs = attachments.flatMap(({ name, bytes: dataBytes }) => {
    const data = readPaperData(dataBytes);
    if (data === undefined || name !== dataNames(data.kind, data.number).data) return [];
    const signatures = attachments.filter((each) => each.name === `${name}.jws`);
    return signatures.flatMap(({ bytes: signature }) => {
      const check = verifyDetached(dataBytes, Buffer.from(signature).toString('latin1'), keys);
      return check.outcome === 'not_ours' ? [] : [{ data, dataBytes, signature, check }];
    });
  });
  const order: SignatureCheck['outcome'][] = ['good', 'bad', 'unknown_key'];
  return order.flatMap((each) => proofs.find(({ check }) => check.outcome === each) ?? [])[0];
}

/** @returns undefined for data that no paper can be drawn from */
async function drawIfPossible(sheet: PaperSheet): Promise<Uint8Array | undefined> {
  try {
    return await renderPaper(sheet);
  } catch {
    return undefined;
  }
}

/**
 * Judges by what a browser shows. It cannot vouch for a file that the strict reader refused, for
 * another viewer may show another thing. And where an earlier release drew the pages, words may
 * differ without anybody's doing; amounts and what was laid over the pages may not.
 */
function judgeBySight(paper: ProvenPaper, { differences, isCertain }: Sight): ProofVerdict {
  const isEarlier = paper.renderer !== paperRenderer;
  if (isEarlier ? isCertain : differences.length > 0) return altered(paper, 'good', differences);
  const cause = isEarlier ? 'earlier_release' : 'saved_again';
  return { verdict: 'unsure', paper, cause, differences: mostTelling(differences) };
}

function altered(
  paper: ProvenPaper,
  signature: 'good' | 'bad',
  differences: readonly Difference[],
): ProofVerdict {
  return { verdict: 'altered', paper, signature, differences: mostTelling(differences) };
}

function unreadable(cause: UnreadableCause): ProofVerdict {
  return { verdict: 'unreadable', cause };
}

function provenPaper(data: PaperData, kid: string): ProvenPaper {
  const { kind, number, language, renderer, pageUrl, paper } = data;
  const { contentHash } = paper as { contentHash?: unknown };
  const hash = typeof contentHash === 'string' ? { contentHash } : {};
  return { kind, number, language, renderer, pageUrl, ...hash, kid };
}
