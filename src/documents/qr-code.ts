import { encode } from 'uqr';
import type { BlocksInk, Box } from './page-plan.ts';
import { COLOR } from './paper-style.ts';

/** A code from its own top left corner, and the white that has to be left around it. */
export interface QrCode {
  ink: BlocksInk;
  quietPt: number;
}

/**
 * A text as a QR code (ISO/IEC 18004) of error correction M, which bears a fold or a stain over 15 %
 * of it.
 */
export function qrCode(text: string, place: { xPt: number; yPt: number; sizePt: number }): QrCode {
  const { data, size } = encode(text, { ecc: 'M', border: 0 });
  const modulePt = place.sizePt / size;
  const blocks = data.flatMap((row, down) =>
    runsOf(row).map(
      ({ from, length }): Box => ({
        xPt: place.xPt + from * modulePt,
        yPt: place.yPt + down * modulePt,
        widthPt: length * modulePt,
        heightPt: modulePt,
      }),
    ),
  );
  return { ink: { kind: 'blocks', blocks, fill: COLOR.ink }, quietPt: QUIET_MODULES * modulePt };
}

const QUIET_MODULES = 4;

/** Each run of dark modules of one row, so that it is drawn as one. */
function runsOf(row: readonly boolean[]): { from: number; length: number }[] {
  const runs: { from: number; length: number }[] = [];
  row.forEach((isDark, at) => {
    if (!isDark) return;
    const last = runs.at(-1);
    if (last !== undefined && last.from + last.length === at) last.length += 1;
    else runs.push({ from: at, length: 1 });
  });
  return runs;
}
