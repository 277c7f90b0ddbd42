import type { MeasureText, TextStyle } from './page-plan.ts';

/** The text on one line of the given width, cut with '…' where it is too long. */
export function fitText(
  text: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): string {
  if (measure(text, style) <= widthPt) return text;
  const characters = Array.from(text);
  while (characters.length > 0 && measure(`${characters.join('')}…`, style) > widthPt) {
    characters.pop();
  }
  return `${characters.join('').trimEnd()}…`;
}
