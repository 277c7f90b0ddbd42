/**
 * A text that somebody typed, as one line of a mail: it can neither start a header or a paragraph
 * of its own nor turn around the direction in which the rest is read.
 */
export function oneLine(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(/[\u202A-\u202E\u2066-\u2069]/g, '')
    .replace(/ {2,}/g, ' ')
    .trim();
}
