/**
 * Text made safe to print: one line, in composed form, without control characters, and no longer
 * than its place allows. Whatever is cut ends visibly in '…'.
 *
 * Characters that steer direction or join letters invisibly go too: in a name they could make a
 * total or a sentence read otherwise than it was written. Only where a script needs a joiner for the
 * shape of its letters does it stay.
 */
export function paperText(raw: string, lengthMax: number): string {
  if (raw.length <= lengthMax && isPlain(raw)) return raw;
  const oneLine = raw
    .replace(INVISIBLE, (found, unseen?: string) => (unseen === undefined ? found : ''))
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Zs}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(LOOKALIKE, (character) => LOOKALIKES[character] ?? character)
    .trim();
  const characters = Array.from(oneLine);
  if (characters.length <= lengthMax) return oneLine;
  return `${characters
    .slice(0, lengthMax - 1)
    .join('')
    .trimEnd()}…`;
}

/** Most texts are: letters of ASCII with single spaces between, and so are safe as they stand. */
function isPlain(raw: string): boolean {
  let before = SPACE;
  for (let at = 0; at < raw.length; at += 1) {
    const code = raw.charCodeAt(at);
    if (code < SPACE || code > TILDE || (code === SPACE && before === SPACE)) return false;
    before = code;
  }
  return before !== SPACE || raw === '';
}

const SPACE = 0x20;
const TILDE = 0x7e;

/**
 * Soft hyphen, joiners, direction marks, byte order mark; lone surrogates; variation selectors; the
 * joiner of graphemes. What the group does not catch stays: joiners after the sign that takes a
 * letter's vowel, and between letters of Arabic (RFC 5892, appendix A.1 and A.2, which leave them in
 * a host's name there).
 */
const INVISIBLE =
  /(?<=[\u094d\u09cd\u0a4d\u0acd\u0b4d\u0bcd\u0c4d\u0ccd\u0d4d\u0dca])[\u200c\u200d](?=\p{L})|(?<=[\u0620-\u064a\u066e-\u06d3])\u200c(?=[\u0620-\u064a\u066e-\u06d3])|(\p{Cf}|\p{Cs}|\p{Variation_Selector}|\u034f)/gu;

/**
 * Pairs that the typeface draws with one and the same glyph. A glyph can name only one character
 * when text is copied from the page, so each pair is settled here, the same way on every paper.
 */
const LOOKALIKES: Record<string, string> = {
  '\u00B5': 'μ',
  '\u02ED': '⁼',
  '\u2206': 'Δ',
  '\u2126': 'Ω',
  '\u03D5': 'φ',
  '\u2010': '-',
  '\u2011': '-',
};
const LOOKALIKE = /[\u00B5\u02ED\u2206\u2126\u03D5\u2010\u2011]/g;
