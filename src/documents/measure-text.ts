import type { MeasureText } from './page-plan.ts';
import { paperFonts } from './paper-fonts.ts';

/** Measures texts in the faces that papers are set in, word by word as they are drawn. */
export function createMeasureText(): MeasureText {
  const faces = paperFonts();
  return (text, { face, sizePt }) => faces[face].widthEm(text) * sizePt;
}
