/** What a shaper tells of one glyph. */
export interface ClusterGlyph {
  /** Where in the word the characters begin that it stands for, alone or with its neighbors. */
  cluster: number;
  xAdvance: number;
}

/**
 * Shares the characters of a word out among its glyphs, so that the glyphs, read one after the other,
 * say the word: a shaper tells only which glyphs together stand for which characters. Where there are
 * fewer characters than glyphs, the widest glyphs say them and the others, dots and strokes, nothing;
 * a vowel that stands on two sides of a letter is taken as its two halves, which is the same text to
 * Unicode. Where there are more, the last glyph says the rest.
 *
 * @param glyphs from left to right
 */
export function clusterTexts(
  glyphs: readonly ClusterGlyph[],
  word: string,
  isRightToLeft: boolean,
): string[] {
  const inOrder = isRightToLeft ? [...glyphs].reverse() : glyphs;
  const texts: string[] = [];
  let from = 0;
  while (from < inOrder.length) {
    const start = inOrder[from]?.cluster ?? 0;
    let to = from + 1;
    while (to < inOrder.length && inOrder[to]?.cluster === start) to += 1;
    texts.push(...shared(word.slice(start, inOrder[to]?.cluster), inOrder.slice(from, to)));
    from = to;
  }
  return isRightToLeft ? texts.reverse() : texts;
}

function shared(text: string, glyphs: readonly ClusterGlyph[]): string[] {
  const wide = glyphs.filter(({ xAdvance }) => xAdvance > 0).length;
  const whole = Array.from(text);
  const characters = whole.length < wide ? Array.from(text.normalize('NFD')) : whole;
  const widestFirst = [...glyphs.keys()].sort(
    (one, other) => (glyphs[other]?.xAdvance ?? 0) - (glyphs[one]?.xAdvance ?? 0),
  );
  const speaking = new Set(widestFirst.slice(0, characters.length));
  let said = 0;
  return glyphs.map((_, at) => {
    if (!speaking.has(at)) return '';
    said += 1;
    const isLast = said === speaking.size;
    return characters.slice(said - 1, isLast ? undefined : said).join('');
  });
}
