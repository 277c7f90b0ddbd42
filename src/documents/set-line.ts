import createBidi from 'bidi-js';
import { hasDirections, isDirectionMark } from './direction-marks.ts';
import type { FontFace } from './page-plan.ts';
import type { PaperFaces } from './paper-faces.ts';
import { isPlain } from './paper-fonts.ts';
import type { ScriptFace, ScriptGlyph } from './script-face.ts';
import type { ShapedWord } from './type-face.ts';

/** A stretch of a line in one typeface and one direction. */
export type LineRun = PlainRun | ScriptRun;

interface RunPlace {
  /** From the line's beginning to the run's left edge. */
  xEm: number;
  widthEm: number;
}

export interface PlainRun extends RunPlace {
  kind: 'plain';
  words: readonly ShapedWord[];
}

export interface ScriptRun extends RunPlace {
  kind: 'script';
  face: ScriptFace;
  /** From left to right. */
  glyphs: readonly ScriptGlyph[];
}

/**
 * Sets a line that holds other scripts: each stretch in the typeface that has its letters, and the
 * stretches in the order in which the eye meets them (Unicode Standard Annex 9), all within a line
 * that itself goes from left to right.
 *
 * @returns the runs in the order of reading, each with its place
 */
export function setLine(line: string, face: FontFace, faces: PaperFaces): LineRun[] {
  if (ASCII_ONLY.test(line)) return [plainRun(line, face, faces)];
  const stretches = stretchesOf(line, face, faces);
  const runs = stretches.map((stretch) => shaped(stretch, face, faces));
  const fromLeft = runs.map((run, at) => ({ run, place: stretches[at]?.place ?? 0 }));
  fromLeft.sort((one, other) => one.place - other.place);
  let xEm = 0;
  for (const { run } of fromLeft) {
    run.xEm = xEm;
    xEm += run.widthEm;
  }
  return runs;
}

const ASCII_ONLY = /^[ -~]*$/;

interface Stretch {
  text: string;
  /** The typeface, if it is not the plain one. */
  script: ScriptFace | undefined;
  isRightToLeft: boolean;
  /** A number that grows from left to right. */
  place: number;
}

function stretchesOf(line: string, face: FontFace, faces: PaperFaces): Stretch[] {
  const { levelAt, placeAt } = hasDirections(line) ? directionsOf(line) : ONE_DIRECTION;
  const stretches: (Stretch & { level: number })[] = [];
  let isApart = true;
  let at = 0;
  for (const character of line) {
    const index = at;
    at += character.length;
    if (isDirectionMark(character)) {
      isApart = true;
      continue;
    }
    const last = isApart ? undefined : stretches.at(-1);
    const script = scriptOf(character, last?.script, face, faces);
    const level = levelAt(index);
    const isRightToLeft = level % 2 === 1;
    // The plain faces are shaped from left to right alone, so there each sign stands by itself.
    const isAlone = isRightToLeft && script === undefined;
    if (last?.script === script && last?.level === level && !isAlone) {
      last.text += character;
      last.place = Math.min(last.place, placeAt(index));
    } else {
      stretches.push({ text: character, script, isRightToLeft, level, place: placeAt(index) });
    }
    isApart = false;
  }
  return stretches;
}

/** A space, a sign, a joiner or a mark stays in the typeface of the letter before it. */
function scriptOf(
  character: string,
  before: ScriptFace | undefined,
  face: FontFace,
  { scripts }: PaperFaces,
): ScriptFace | undefined {
  if (before !== undefined && FOLLOWS.test(character) && before.has(character)) return before;
  if (isPlain(character)) return undefined;
  return scripts.find(({ regular }) => regular.has(character))?.[face];
}

const FOLLOWS = /[\p{M}\p{P}\p{Zs}\u200c\u200d]/u;

interface Directions {
  /** Odd where it is read from right to left. */
  levelAt(index: number): number;
  placeAt(index: number): number;
}

const ONE_DIRECTION: Directions = { levelAt: () => 0, placeAt: (index) => index };

function directionsOf(line: string): Directions {
  const found = bidi.getEmbeddingLevels(line, 'ltr');
  const places = new Map<number, number>();
  for (const [place, index] of bidi.getReorderedIndices(line, found).entries()) {
    places.set(index, place);
  }
  return {
    levelAt: (index) => found.levels[index] ?? 0,
    placeAt: (index) => places.get(index) ?? index,
  };
}

const bidi = createBidi();

function shaped(
  { text, script, isRightToLeft }: Stretch,
  face: FontFace,
  faces: PaperFaces,
): LineRun {
  if (script === undefined) {
    return plainRun(isRightToLeft ? mirrored(text) : text, face, faces);
  }
  // Word by word, so that a line is as wide as its words, and a word is shaped once.
  const words = text.split(/(?<= )/).map((word) => script.shape(word, isRightToLeft));
  if (isRightToLeft) words.reverse();
  const glyphs = words.flatMap((word) => word.glyphs);
  return { kind: 'script', xEm: 0, widthEm: widthOf(words), face: script, glyphs };
}

function plainRun(text: string, face: FontFace, { plain }: PaperFaces): PlainRun {
  const words = plain[face].shape(text);
  return { kind: 'plain', xEm: 0, widthEm: widthOf(words), words };
}

function widthOf(words: readonly { widthEm: number }[]): number {
  return words.reduce((sum, { widthEm }) => sum + widthEm, 0);
}

/** A bracket that opens to the left where it is read from the right. */
function mirrored(sign: string): string {
  return bidi.getMirroredCharacter(sign) ?? sign;
}
