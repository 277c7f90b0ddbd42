import { type PaperSheet, renderPaper } from '../documents/index.ts';
import { pagesDigest } from './pdf/pages-digest.ts';
import { readStrictly } from './pdf/read-strictly.ts';

/** A drawn paper and what is signed of its pages. */
export interface DrawnPages {
  bytes: Uint8Array;
  /** As `pagesDigest` tells them. */
  pagesSha256: string;
}

/**
 * Draws a paper that is to be sealed. Its pages are read again for the digest, which is work for the
 * thread that draws, not for one that answers requests meanwhile.
 * @throws PaperRefused when the paper does not add up
 */
export async function drawToSeal(sheet: PaperSheet): Promise<DrawnPages> {
  const bytes = await renderPaper(sheet);
  return { bytes, pagesSha256: pagesDigest(readStrictly(bytes, 'us')) };
}
