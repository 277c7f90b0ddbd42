import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { ScriptFamily } from './script-families.ts';

/** The file of a family that is said to hold a character, by its path, if any is. */
export function scriptFile(family: ScriptFamily, codePoint: number): string | undefined {
  const stretches = stretchesOf(family);
  let [low, high] = [0, stretches.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((stretches[middle]?.first ?? 0) <= codePoint) low = middle + 1;
    else high = middle;
  }
  const stretch = stretches[low - 1];
  return stretch !== undefined && codePoint <= stretch.last ? stretch.path : undefined;
}

/** Characters that follow each other in Unicode and lie in one file. */
interface Stretch {
  first: number;
  last: number;
  path: string;
}

const known = new Map<string, readonly Stretch[]>();
const { resolve } = createRequire(import.meta.url);

/** As the family's package lists them, in the order of Unicode; the list is read once per process. */
function stretchesOf({ packageName, files }: ScriptFamily): readonly Stretch[] {
  const read = known.get(packageName);
  if (read !== undefined) return read;
  const name = packageName.slice(packageName.indexOf('/') + 1);
  const list = JSON.parse(readFileSync(resolve(`${packageName}/unicode.json`), 'utf8'));
  const stretches = Object.entries<string>(list)
    .filter(([part]) => (files === 'one' ? name.endsWith(`-${part}`) : part.startsWith('[')))
    .flatMap(([part, ranges]) => {
      const path = `${packageName}/files/${name}-${part.replace(/[[\]]/g, '')}${VARIANT}`;
      return ranges.split(',').map((range) => stretchOf(range, resolve(path)));
    })
    .sort((one, other) => one.first - other.first);
  known.set(packageName, stretches);
  return stretches;
}

/** Upright, with the one axis of weight. */
const VARIANT = '-wght-normal.woff2';

/** @param range as style sheets have it, `U+0590-05ff` or `U+200c` */
function stretchOf(range: string, path: string): Stretch {
  const [first = '', last = first] = range.slice('U+'.length).split('-');
  return { first: Number.parseInt(first, 16), last: Number.parseInt(last, 16), path };
}
