import type { MeasureText } from './page-plan.ts';
import { type PaperFaces, plainFaces } from './paper-faces.ts';
import { setLine } from './set-line.ts';

/** Measures texts in the faces that a paper is set in, word by word as they are drawn. */
export function createMeasureText(faces: PaperFaces = plainFaces()): MeasureText {
  const { plain, scripts } = faces;
  if (scripts.length === 0) return (text, { face, sizePt }) => plain[face].widthEm(text) * sizePt;
  return (text, { face, sizePt }) =>
    setLine(text, face, faces).reduce((sumEm, { widthEm }) => sumEm + widthEm, 0) * sizePt;
}
