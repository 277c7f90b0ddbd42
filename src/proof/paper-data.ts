import { z } from 'zod';
import type { PaperLanguage } from '../documents/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';

/** What a paper carries inside itself: all that is needed to draw it again. */
export interface PaperData {
  format: typeof PAPER_FORMAT;
  version: 1;
  kind: string;
  /** As printed. */
  number: string;
  language: PaperLanguage;
  /** What turned the data into pages. */
  renderer: string;
  pageUrl?: string | undefined;
  /** What the pages look like, as `pagesDigest` reads them off: SHA-256 in hexadecimal. */
  pagesSha256: string;
  /** The kind's own data. Of a paper that was read, only its signature says whether it is whole. */
  paper: object;
}

export const PAPER_FORMAT = 'evenhand-paper';

/** The canonical text that is attached and signed (RFC 8785), in UTF-8. */
export function writePaperData(data: PaperData): Uint8Array {
  return new TextEncoder().encode(canonicalJson(data));
}

/**
 * Reads attached data.
 * @returns undefined when it is no data of a paper of ours, of a form this release knows
 */
export function readPaperData(bytes: Uint8Array): PaperData | undefined {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return dataShape.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** The name of the attached data, and of the signature beside it. */
export function dataNames(kind: string, number: string): { data: string; signature: string } {
  const data = `${kind}-${number}`.replace(/[^A-Za-z0-9_.-]+/g, '-');
  return { data: `${data}.json`, signature: `${data}.json.jws` };
}

const dataShape = z.object({
  format: z.literal(PAPER_FORMAT),
  version: z.literal(1),
  kind: z.string().max(40),
  number: z.string().max(80),
  language: z.enum(['en', 'es']),
  renderer: z.string().max(80),
  pageUrl: z.string().max(2_000).optional(),
  pagesSha256: z.string().regex(/^[0-9a-f]{64}$/),
  paper: z.looseObject({}),
});
