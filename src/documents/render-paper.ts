import { assertQuoteAddsUp } from './assert-quote-adds-up.ts';
import { cleanQuotePaper } from './clean-quote-paper.ts';
import { createMeasureText, drawPages } from './draw-pages.ts';
import type { PagePlan } from './page-plan.ts';
import type { Paper, PaperSheet } from './paper.ts';
import { drawableText } from './paper-fonts.ts';
import { paperText } from './paper-text.ts';
import { type PlanOptions, planQuote } from './plan-quote.ts';

/**
 * Prints a paper as a PDF/UA-1 file on US Letter, with the files that belong to it inside. The same
 * sheet gives the same bytes, in any process and time zone, so the bytes can be stored under their
 * hash.
 *
 * @throws PaperRefused when the paper's lines do not sum to its totals to the cent.
 */
export async function renderPaper({
  paper,
  pageUrl,
  attachments,
}: PaperSheet): Promise<Uint8Array> {
  return drawPages(planOf(paper, { measure: createMeasureText(), pageUrl }), attachments);
}

function planOf({ paper }: Paper, options: PlanOptions): PagePlan {
  assertQuoteAddsUp(paper);
  return planQuote(cleanQuotePaper(paper, clean), options);
}

function clean(raw: string, lengthMax: number): string {
  return drawableText(paperText(raw, lengthMax));
}
