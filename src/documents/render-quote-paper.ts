import { assertPaperAddsUp } from './assert-paper-adds-up.ts';
import { cleanQuotePaper } from './clean-quote-paper.ts';
import { createMeasureText, drawPages } from './draw-pages.ts';
import { drawableText } from './paper-fonts.ts';
import { paperText } from './paper-text.ts';
import { planQuote } from './plan-quote.ts';
import type { QuotePaper } from './quote-paper.ts';

/**
 * Prints a quote as a PDF/UA-1 file on US Letter. The same paper gives the same bytes, in any
 * process and time zone, so the bytes can be stored under their hash.
 *
 * @throws PaperRefused when the paper's lines do not sum to its totals to the cent.
 */
export async function renderQuotePaper(paper: QuotePaper): Promise<Uint8Array> {
  assertPaperAddsUp(paper);
  const clean = cleanQuotePaper(paper, (raw, lengthMax) => drawableText(paperText(raw, lengthMax)));
  return drawPages(planQuote(clean, createMeasureText()));
}
