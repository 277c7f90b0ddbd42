import { setApart } from '../direction-marks.ts';
import { createMeasureText } from '../measure-text.ts';
import { drawableText, openPaperFaces } from '../paper-faces.ts';
import { paperText } from '../paper-text.ts';
import { textsIn } from '../paper-texts.ts';
import type { Report } from './report.ts';

/** Prints a report as a PDF/UA-1 file on US Letter. The same report gives the same bytes. */
export async function renderReport(report: Report): Promise<Uint8Array> {
  // As for a paper: only a thread that prints loads what prints.
  const { planReport } = await import('./plan-report.ts');
  const { drawPages } = await import('../draw-pages.ts');
  const faces = await openPaperFaces(textsIn(report));
  const clean = (raw: string, lengthMax: number) => {
    const text = drawableText(paperText(raw, lengthMax), faces);
    return faces.scripts.length === 0 ? text : setApart(text);
  };
  return drawPages(planReport(report, { measure: createMeasureText(faces), clean }), faces);
}
