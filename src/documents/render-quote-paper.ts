import type { QuotePaper } from './quote-paper.ts';
import { renderPaper } from './render-paper.ts';

/**
 * Prints a quote by itself, with nothing attached.
 * @throws PaperRefused when the paper's lines do not sum to its totals to the cent.
 */
export function renderQuotePaper(paper: QuotePaper): Promise<Uint8Array> {
  return renderPaper({ paper: { kind: 'quote', paper }, attachments: [] });
}
