import type { Ink, MeasureText, TextInk, TextStyle } from './page-plan.ts';
import { wrapText } from './wrap-text.ts';

/** A piece of text set into a column, with the height it took. */
export interface LaidText {
  inks: Ink[];
  heightPt: number;
}

export interface TextPlace {
  xPt: number;
  topPt: number;
  widthPt: number;
  align?: 'left' | 'right';
}

/** Sets a text into a column of the given width, line below line. An empty text takes no height. */
export function layText(
  text: string,
  style: TextStyle,
  place: TextPlace,
  measure: MeasureText,
): LaidText {
  if (text === '') return { inks: [], heightPt: 0 };
  const lines = wrapText(text, style, place.widthPt, measure);
  const inks = lines.map((line, index) =>
    layLine(line, style, lineBelow(place, style, index), measure),
  );
  return { inks, heightPt: lines.length * style.lineHeightPt };
}

/** Sets one line, unbroken. On the right edge it is the text that aligns, not a space after it. */
export function layLine(
  text: string,
  style: TextStyle,
  place: TextPlace,
  measure: MeasureText,
): TextInk {
  const rightPt = place.xPt + place.widthPt;
  const xPt = place.align === 'right' ? rightPt - measure(text.trimEnd(), style) : place.xPt;
  return { kind: 'text', text, xPt, baselinePt: place.topPt + baselineOffsetPt(style), style };
}

function lineBelow(place: TextPlace, style: TextStyle, index: number): TextPlace {
  return { ...place, topPt: place.topPt + index * style.lineHeightPt };
}

/** Centers the capitals, 0.66 of the type size high in Source Sans, in the line's height. */
function baselineOffsetPt(style: TextStyle): number {
  return (style.lineHeightPt + 0.66 * style.sizePt) / 2;
}
