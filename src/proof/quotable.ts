/**
 * A text from a stranger's file as it may be quoted in a line of ours, on a page or in a terminal:
 * without what moves the cursor, clears the screen, turns the order of letters around, hides them,
 * or would end the quotation, and no longer than a line or two.
 */
export function quotable(text: string): string {
  const plain = text
    // A file may give megabytes for a title, and whoever tells the verdict answers others meanwhile.
    .slice(0, READ_MAX)
    .normalize('NFC')
    .replace(/["“”„«»]/g, "'")
    .replace(UNSEEN, ' ')
    // Marks stacked on a letter reach over the lines above and below.
    .replace(/(\p{M}{2})\p{M}+/gu, '$1')
    .replace(/\s+/g, ' ')
    .trim();
  const letters = [...plain];
  if (letters.length <= LETTERS_MAX) return plain;
  return `${letters.slice(0, LETTERS_MAX).join('').trimEnd()}…`;
}

/** Controls, marks of direction and other letters without a shape, ends of lines, no letters. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Co}\p{Cs}\p{Cn}\u115f\u1160\u3164\uffa0\u2800]/gu;
const LETTERS_MAX = 160;
/** Enough that what is cut off here would not be told anyhow, unless somebody filled it with nothing. */
const READ_MAX = 2_000;
