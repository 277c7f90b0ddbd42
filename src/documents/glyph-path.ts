import type { Font } from 'fontkit';
import type { ScriptGlyph } from './script-face.ts';

/**
 * The operators that fill a glyph's shape without its being text (ISO 32000-1, 8.5), measured from
 * the page's top left corner.
 *
 * @param originPt where on the baseline the glyph begins
 */
export function glyphPath(
  font: Font,
  { id, xOffset, yOffset }: ScriptGlyph,
  [xPt, yPt]: readonly [number, number],
  sizePt: number,
): string {
  const scale = sizePt / font.unitsPerEm;
  const at = (x: number, y: number) =>
    `${rounded(xPt + (x + xOffset) * scale)} ${rounded(yPt - (y + yOffset) * scale)}`;
  let [penX, penY] = [0, 0];
  const operators = font.getGlyph(id).path.commands.map(({ command, args }) => {
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = args;
    const [fromX, fromY] = [penX, penY];
    [penX = 0, penY = 0] = args.slice(-2);
    switch (command) {
      case 'moveTo':
        return `${at(a, b)} m`;
      case 'lineTo':
        return `${at(a, b)} l`;
      case 'quadraticCurveTo':
        // A curve with one handle is the curve with two that reach two thirds of the way to it.
        return `${at(toward(fromX, a), toward(fromY, b))} ${at(toward(c, a), toward(d, b))} ${at(c, d)} c`;
      case 'bezierCurveTo':
        return `${at(a, b)} ${at(c, d)} ${at(e, f)} c`;
      default:
        return 'h';
    }
  });
  return [...operators, 'f'].join('\n');
}

function toward(end: number, handle: number): number {
  return end + (2 / 3) * (handle - end);
}

/** A thousandth of a point is finer than any printer. */
function rounded(value: number): number {
  return Math.round(value * 1_000) / 1_000;
}
