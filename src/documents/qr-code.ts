import type { BlocksInk, Box } from './page-plan.ts';
import { COLOR } from './paper-style.ts';
import { qrModules } from './qr-modules.ts';

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
  const { size, modules } = qrModules(text);
  const modulePt = sizePt / size;
  const runs = darkRuns(modules, size);
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

interface Run {
  from: number;
  down: number;
  length: number;
}

/** Each run of dark modules of one row, so that it is drawn as one. */
function darkRuns(modules: Uint8Array, size: number): Run[] {
  const runs: Run[] = [];
  let run: Run | undefined;
  modules.forEach((module, at) => {
    if (module === 0 || at % size === 0) run = undefined;
    if (module === 0) return;
    if (run === undefined) {
      run = { from: at % size, down: Math.floor(at / size), length: 0 };
      runs.push(run);
    }
    run.length += 1;
  });
  return runs;
}
