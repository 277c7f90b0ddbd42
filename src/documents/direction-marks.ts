/**
 * A text that holds letters read from right to left, set apart from whatever stands around it
 * (Unicode Standard Annex 9, 2.4): inside it the order is its own, and outside it nothing moves. So a
 * name can turn around no amount and no sentence.
 */
export function setApart(text: string): string {
  if (!RIGHT_TO_LEFT.test(text)) return text;
  return `${startsRightToLeft(text) ? RIGHT_TO_LEFT_ISOLATE : LEFT_TO_RIGHT_ISOLATE}${text}${END}`;
}

/** Whether the order of a line's letters has to be found out before they are drawn. */
export function hasDirections(line: string): boolean {
  return RIGHT_TO_LEFT.test(line);
}

export function isDirectionMark(character: string): boolean {
  return (
    character === RIGHT_TO_LEFT_ISOLATE || character === LEFT_TO_RIGHT_ISOLATE || character === END
  );
}

/** The text alone, for where nobody orders it or whoever does knows how to. */
export function withoutDirectionMarks(text: string): string {
  return text.replace(MARKS, '');
}

/** The mark that a line leaves open at its end; the next line goes on with it. */
export function openMark(line: string): string {
  const at = Math.max(
    line.lastIndexOf(RIGHT_TO_LEFT_ISOLATE),
    line.lastIndexOf(LEFT_TO_RIGHT_ISOLATE),
  );
  return at > line.lastIndexOf(END) ? line.charAt(at) : '';
}

export const END = '\u2069';
const LEFT_TO_RIGHT_ISOLATE = '\u2066';
const RIGHT_TO_LEFT_ISOLATE = '\u2067';
const MARKS = /[\u2066\u2067\u2069]/g;

/** The blocks that hold scripts written so (Unicode Standard Annex 9, table of defaults). */
const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;

function startsRightToLeft(text: string): boolean {
  const [first = ''] = text.match(/\p{L}/u) ?? [];
  return RIGHT_TO_LEFT.test(first);
}
