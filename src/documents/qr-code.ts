import encodeQR from 'qr';
import type { BlocksInk, Box } from './page-plan.ts';
import { COLOR } from './paper-style.ts';

/** A code to be placed by its top left corner, and the white that has to be left around it. */
export interface QrCode {
  quietPt: number;
  inkAt: (xPt: number, yPt: number) => BlocksInk;
}

/**
 * A text as a QR code (ISO/IEC 18004) of error correction M, which bears a fold or a stain over 15 %
 * of it.
 */
export function qrCode(text: string, sizePt: number): QrCode {
  const rows = modulesOf(text);
  const modulePt = sizePt / rows.length;
  const runs = rows.flatMap((row, down) => runsOf(row).map((run) => ({ ...run, down })));
  return {
    quietPt: QUIET_MODULES * modulePt,
    inkAt: (xPt, yPt) => ({
      kind: 'blocks',
      blocks: runs.map(
        ({ from, length, down }): Box => ({
          xPt: xPt + from * modulePt,
          yPt: yPt + down * modulePt,
          widthPt: length * modulePt,
          heightPt: modulePt,
        }),
      ),
      fill: COLOR.ink,
    }),
  };
}

const QUIET_MODULES = 4;

/** Row by row, true where it is dark. The encoder always draws a border of its own. */
function modulesOf(text: string): boolean[][] {
  const bordered = encodeQR(text, 'raw', { ecc: 'medium', border: BORDER_MODULES });
  const inner = [BORDER_MODULES, -BORDER_MODULES] as const;
  return bordered.slice(...inner).map((row) => row.slice(...inner));
}

const BORDER_MODULES = 1;

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
