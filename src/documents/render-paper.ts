import { attachFiles } from './attach-files.ts';
import { setApart } from './direction-marks.ts';
import { createMeasureText } from './measure-text.ts';
import type { PaperSheet } from './paper.ts';
import { drawableText, openPaperFaces } from './paper-faces.ts';
import { paperText } from './paper-text.ts';
import { paperTexts } from './paper-texts.ts';

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
  // The thread that answers requests prints nothing, and starts sooner without what prints.
  const { planPaper } = await import('./plan-paper.ts');
  const { drawPages } = await import('./draw-pages.ts');
  const faces = await openPaperFaces(paperTexts(paper));
  const clean = (raw: string, lengthMax: number) => {
    const text = drawableText(paperText(raw, lengthMax), faces);
    return faces.scripts.length === 0 ? text : setApart(text);
  };
  const plan = planPaper(paper, { measure: createMeasureText(faces), pageUrl, clean });
  return attachFiles(drawPages(plan, faces), attachments);
}
