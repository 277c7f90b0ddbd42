import { encode } from 'uqr';

/** The dark and light of a code, row by row from its top left corner: 1 is dark. */
export interface QrModules {
  size: number;
  modules: Uint8Array;
}

/**
 * A text as a QR code (ISO/IEC 18004) of error correction M, under the mask of the eight that the
 * standard's rules like best. The encoder's own choice is the same and takes twelve times as long,
 * more than all else on a page.
 */
export function qrModules(text: string): QrModules {
  const { version, size, data } = encode(text, UNDER_MASK_0);
  const first = flat(data);
  let best = first;
  let least = Number.POSITIVE_INFINITY;
  for (const difference of differencesOf(version)) {
    const modules = changed(first, difference);
    const penalty = penaltyOf(modules, size);
    if (penalty < least) {
      best = modules;
      least = penalty;
    }
  }
  return { size, modules: best };
}

/** A typed array's own `map` is many times slower. */
function changed(first: Uint8Array, difference: Uint8Array): Uint8Array {
  const modules = new Uint8Array(first.length);
  for (let at = 0; at < modules.length; at += 1) {
    modules[at] = (first[at] ?? 0) ^ (difference[at] ?? 0);
  }
  return modules;
}

const UNDER_MASK_0 = { ecc: 'M', border: 0, maskPattern: 0 } as const;
const MASKS = 8;

/** For each mask: where a code of a version turns out otherwise than under the first, for any text. */
function differencesOf(version: number): readonly Uint8Array[] {
  const known = differences.get(version);
  if (known !== undefined) return known;
  const codes = Array.from({ length: MASKS }, (_, maskPattern) => {
    const options = { ...UNDER_MASK_0, maskPattern, minVersion: version, maxVersion: version };
    return flat(encode('', options).data);
  });
  const made = codes.map((code) => code.map((module, at) => module ^ (codes[0]?.[at] ?? 0)));
  differences.set(version, made);
  return made;
}

/** There are forty versions. */
const differences = new Map<number, readonly Uint8Array[]>();

function flat(rows: readonly (readonly boolean[])[]): Uint8Array {
  const modules = new Uint8Array(rows.length ** 2);
  let at = 0;
  for (const row of rows) {
    for (const isDark of row) {
      if (isDark) modules[at] = 1;
      at += 1;
    }
  }
  return modules;
}

/** What speaks against a mask (ISO/IEC 18004, 7.8.3.1). */
function penaltyOf(modules: Uint8Array, size: number): number {
  let penalty = unevenness(modules) * 10;
  for (let line = 0; line < size; line += 1) {
    penalty += linePenalty(modules, line * size, 1, size);
    penalty += linePenalty(modules, line, size, size);
  }
  return penalty + 3 * blocks(modules, size);
}

/** Places where four modules of one color make a square. */
function blocks(modules: Uint8Array, size: number): number {
  let count = 0;
  for (let row = 0; row < size - 1; row += 1) {
    for (let at = row * size; at < row * size + size - 1; at += 1) {
      const module = modules[at];
      const isBlock =
        module === modules[at + 1] &&
        module === modules[at + size] &&
        module === modules[at + size + 1];
      if (isBlock) count += 1;
    }
  }
  return count;
}

/** In steps of five hundredths: how far the share of dark is from a half. */
function unevenness(modules: Uint8Array): number {
  let dark = 0;
  for (let at = 0; at < modules.length; at += 1) dark += modules[at] ?? 0;
  const total = modules.length;
  return Math.ceil(Math.abs(dark * 20 - total * 10) / total) - 1;
}

/** Long runs of one color in a row or column, and what looks like the marks in a code's corners. */
function linePenalty(modules: Uint8Array, start: number, step: number, size: number): number {
  // Light and dark by turns, from a light run on that may be empty.
  const runs: number[] = [];
  let color = 0;
  let run = 0;
  let penalty = 0;
  for (let at = start; at < start + size * step; at += step) {
    if (modules[at] === color) {
      run += 1;
      if (run === 5) penalty += 3;
      else if (run > 5) penalty += 1;
    } else {
      runs.push(run);
      run = 1;
      color = 1 - color;
    }
  }
  runs.push(run);
  return penalty + 40 * cornerMarks(runs, size);
}

/** Runs as 1:1:3:1:1 from dark to dark, with four times as much light on one side at least. */
function cornerMarks(runs: number[], size: number): number {
  // Around a code all is light.
  if (runs.length % 2 === 0) runs.push(0);
  runs[0] = (runs[0] ?? 0) + size;
  runs[runs.length - 1] = (runs.at(-1) ?? 0) + size;
  let marks = 0;
  for (let at = 3; at + 3 < runs.length; at += 2) {
    const unit = runs[at - 2] ?? 0;
    const isMark =
      runs[at] === 3 * unit &&
      runs[at - 1] === unit &&
      runs[at + 1] === unit &&
      runs[at + 2] === unit;
    if (!isMark) continue;
    const [before = 0, after = 0] = [runs[at - 3], runs[at + 3]];
    if (before >= 4 * unit && after >= unit) marks += 1;
    if (after >= 4 * unit && before >= unit) marks += 1;
  }
  return marks;
}
