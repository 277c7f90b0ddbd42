import { type QuotePaper, renderPaper } from '../../src/documents/index.ts';

/** A quote as PDF by itself, with nothing attached. */
export function printQuote(paper: QuotePaper): Promise<Uint8Array> {
  return renderPaper({ paper: { kind: 'quote', paper }, attachments: [] });
}
