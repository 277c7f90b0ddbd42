import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { findDifferences } from '../../src/proof/find-differences.ts';
import { attachmentsOf } from '../../src/proof/pdf/attachments-of.ts';
import { pagesDigest } from '../../src/proof/pdf/pages-digest.ts';
import { StrictlyUnreadable } from '../../src/proof/pdf/pdf-value.ts';
import { readStrictly } from '../../src/proof/pdf/read-strictly.ts';
import { readSeenFile, type SeenFile } from '../../src/proof/read-seen-file.ts';
import { lumpSum } from '../documents/sample-papers.ts';
import { forgeAtRandom, type Move } from './forger.ts';
import { type PdfPieces, renumbered, takeApart } from './pdf-pieces.ts';
import { dearer, sealQuote } from './sealed-papers.ts';

let ours: PdfPieces;
let other: PdfPieces;
let seenInOurs: SeenFile;
let digest: string;

beforeAll(async () => {
  const sheet = await sealQuote(lumpSum);
  const genuine = await renderPaper(sheet);
  ours = takeApart(genuine);
  const forged = await renderPaper({ ...sheet, paper: { kind: 'quote', paper: dearer } });
  other = renumbered(takeApart(forged), 1_000);
  seenInOurs = await readSeenFile(genuine);
  digest = seenStrictly(genuine) ?? '';
});

/** @returns the digest of the pages and of the attached files, or nothing where the file is refused */
function seenStrictly(bytes: Uint8Array): string | undefined {
  try {
    const pdf = readStrictly(bytes);
    const files = attachmentsOf(pdf).map(({ name, bytes }) => `${name} ${Buffer.from(bytes)}`);
    return [pagesDigest(pdf), ...files].join('\n');
  } catch (error) {
    if (error instanceof StrictlyUnreadable) return undefined;
    throw error;
  }
}

const move: fc.Arbitrary<Move> = fc.tuple(fc.nat(1_000), fc.nat(1_000_000), fc.nat(1_000));
describe('whatever a forger does to the structure of a file', () => {
  it('a browser sees our paper in it, or it is not ours', async () => {
    let accepted = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(move, { minLength: 1, maxLength: 6 }), async (moves) => {
        const file = forgeAtRandom(ours, other, moves);
        if (seenStrictly(file) !== digest) return;
        accepted += 1;
        expect(findDifferences(await readSeenFile(file), seenInOurs)).toEqual([]);
      }),
      { numRuns: 2_000 },
    );
    // Were every file refused, nothing would have been tried.
    expect(accepted).toBeGreaterThan(50);
  }, 300_000);
});
