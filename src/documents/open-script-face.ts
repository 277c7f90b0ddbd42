import { readFile } from 'node:fs/promises';
import { openFont } from './open-font.ts';
import { ScriptFace, type Shaper } from './script-face.ts';

/**
 * Opens one file of a typeface at one weight. It stays open for later papers, as long as there are
 * not too many others; what it is does not depend on when it was opened.
 */
export function openScriptFace(path: string, weight: number): Promise<ScriptFace> {
  const key = `${weight} ${path}`;
  const face = open.get(key) ?? readScriptFace(path, weight);
  // The one used last comes to the end, so that the first is the one longest unused.
  open.delete(key);
  open.set(key, face);
  const [oldest] = open.keys();
  if (open.size > OPEN_MAX && oldest !== undefined) open.delete(oldest);
  return face;
}

const open = new Map<string, Promise<ScriptFace>>();
/** Of some 0.3 MB each: a name in Chinese letters takes one to three, in two weights. */
const OPEN_MAX = 160;

/**
 * The libraries are large and most companies never need them, so they are loaded only here. A file
 * of a reader holds outlines of one weight, so the typeface is set to one before it is cut down.
 */
async function readScriptFace(path: string, weight: number): Promise<ScriptFace> {
  const { default: subsetFont } = await import('subset-font');
  const { Blob, Buffer: ShapeBuffer, Direction, Face, Font, shape } = await import('harfbuzzjs');
  const file = await subsetFont(await readFile(path), undefined, {
    keepAllGlyphs: true,
    targetFormat: 'truetype',
    variationAxes: { wght: weight },
  });
  const font = openFont(file, path);
  const shaper: Shaper = {
    bufferOf: (text, isRightToLeft) => {
      const buffer = new ShapeBuffer();
      buffer.addText(text);
      buffer.guessSegmentProperties();
      // Nobody says which language a name is in.
      buffer.setLanguage('und');
      buffer.setDirection(isRightToLeft ? Direction.RTL : Direction.LTR);
      return buffer;
    },
    shape: (shapeFont, buffer) => shape(shapeFont, buffer),
  };
  return new ScriptFace(font, new Font(new Face(new Blob(file))), shaper);
}
