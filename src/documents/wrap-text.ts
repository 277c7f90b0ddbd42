import LineBreaker from 'linebreak';
import { END, openMark } from './direction-marks.ts';
import type { MeasureText, TextStyle } from './page-plan.ts';

/**
 * Breaks a text into lines no wider than `widthPt`, between words and where ideographs allow it. A
 * word wider than a whole line is broken within. Every line but the last ends in the space it was
 * broken at, so that text taken from the page has its words apart; that space hangs beyond the edge
 * and is not counted.
 */
export function wrapText(
  text: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): string[] {
  const lines: string[] = [];
  const isAbroad = ABROAD.test(text);
  const breakWord = isAbroad ? breakAbroad : breakPlain;
  const spaceWidthPt = measure(' ', style);
  let line = '';
  let lineWidthPt = 0;
  for (const whole of text.split(' ')) {
    for (const { piece, gap } of breakWord(whole, style, widthPt, measure)) {
      const pieceWidthPt = measure(piece, style);
      if (line !== '' && lineWidthPt + pieceWidthPt > widthPt) {
        lines.push(line);
        line = '';
        lineWidthPt = 0;
      }
      line += `${piece}${gap}`;
      lineWidthPt += pieceWidthPt;
      // A space belongs to the letters before it, and not every script has it as wide.
      if (gap !== '') {
        lineWidthPt += isAbroad ? measure(`${piece} `, style) - pieceWidthPt : spaceWidthPt;
      }
    }
  }
  lines.push(line.slice(0, -1));
  return isAbroad ? goingOn(lines) : lines;
}

/** A part of a word that stays on one line, and what follows it there. */
interface WordPiece {
  piece: string;
  gap: ' ' | '';
}

function breakPlain(
  word: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): WordPiece[] {
  if (measure(word, style) <= widthPt) return [{ piece: word, gap: ' ' }];
  return breakAnywhere(word, style, widthPt, measure).map((piece) => ({ piece, gap: ' ' }));
}

function breakAbroad(
  word: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): WordPiece[] {
  if (IDEOGRAPHS.test(word)) return breakBetweenIdeographs(word, style, widthPt, measure);
  if (!ABROAD.test(word)) return breakPlain(word, style, widthPt, measure);
  if (measure(word, style) <= widthPt) return [{ piece: word, gap: ' ' }];
  // Letters that join, and marks, are of one piece to whoever takes the text from the page.
  return withGapAtEnd(breakAnywhere(word, style, widthPt, measure));
}

function withGapAtEnd(pieces: readonly string[]): WordPiece[] {
  return pieces.map((piece, at) => ({ piece, gap: at === pieces.length - 1 ? ' ' : '' }));
}

/** Where one line may end and the next begin (Unicode Standard Annex 14). */
function breakBetweenIdeographs(
  word: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): WordPiece[] {
  const breaker = new LineBreaker(word);
  const pieces: string[] = [];
  let from = 0;
  for (let next = breaker.nextBreak(); next !== null; next = breaker.nextBreak()) {
    const part = word.slice(from, next.position);
    const isWide = measure(part, style) > widthPt;
    pieces.push(...(isWide ? breakAnywhere(part, style, widthPt, measure) : [part]));
    from = next.position;
  }
  return withGapAtEnd(pieces);
}

function breakAnywhere(
  word: string,
  style: TextStyle,
  widthPt: number,
  measure: MeasureText,
): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const character of ABROAD.test(word) ? lettersWithMarks(word) : word) {
    if (piece !== '' && measure(piece + character, style) > widthPt) {
      pieces.push(piece);
      piece = '';
    }
    piece += character;
  }
  pieces.push(piece);
  return pieces;
}

function lettersWithMarks(word: string): string[] {
  return Array.from(LETTERS.segment(word), ({ segment }) => segment);
}

const LETTERS = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** Scripts that set no spaces between words and may break nearly anywhere. */
const IDEOGRAPHS = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Bopomofo}]/u;

/** Letters beyond Latin, Greek and Cyrillic, and what is set apart for their sake. */
const ABROAD = /[^\P{L}\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]|[\u2066\u2067]/u;

/** What is set apart goes on being so in the next line; a line's last space stays outside. */
function goingOn(lines: readonly string[]): string[] {
  let open = '';
  return lines.map((line) => {
    const whole = `${open}${line}`;
    open = openMark(whole);
    if (open === '') return whole;
    const end = whole.endsWith(' ') ? ' ' : '';
    return `${whole.slice(0, whole.length - end.length)}${END}${end}`;
  });
}
