import type { MeasureText, TextStyle } from './page-plan.ts';

/**
 * Breaks a text into lines no wider than `widthPt`. A word wider than a whole line is broken within.
 * Every line but the last ends in the space it was broken at, so that text taken from the page has
 * its words apart; that space hangs beyond the edge and is not counted.
 */
export function wrapText(
  text: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): string[] {
  const lines: string[] = [];
  const spaceWidthPt = measure(' ', style);
  let line = '';
  let lineWidthPt = 0;
  for (const whole of text.split(' ')) {
    for (const word of breakWord(whole, style, widthPt, measure)) {
      const wordWidthPt = measure(word, style);
      if (line !== '' && lineWidthPt + wordWidthPt > widthPt) {
        lines.push(line);
        line = '';
        lineWidthPt = 0;
      }
      line += `${word} `;
      lineWidthPt += wordWidthPt + spaceWidthPt;
    }
  }
  lines.push(line.slice(0, -1));
  return lines;
}

function breakWord(
  word: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): string[] {
  if (measure(word, style) <= widthPt) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && measure(piece + character, style) > widthPt) {
      pieces.push(piece);
      piece = '';
    }
    piece += character;
  }
  pieces.push(piece);
  return pieces;
}
