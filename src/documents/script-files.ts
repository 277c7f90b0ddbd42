import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { ScriptFamily } from './script-families.ts';

/** One file of a family and the characters that it is said to hold. */
export interface ScriptFile {
  path: string;
  holds(codePoint: number): boolean;
}

/** The files of a family, as its package lists them; the list is read once per process. */
export function scriptFiles({ packageName, files }: ScriptFamily): readonly ScriptFile[] {
  const known = lists.get(packageName);
  if (known !== undefined) return known;
  const name = packageName.slice(packageName.indexOf('/') + 1);
  const list = JSON.parse(readFileSync(resolve(`${packageName}/unicode.json`), 'utf8'));
  const made = Object.entries<string>(list)
    .filter(([part]) => (files === 'one' ? name.endsWith(`-${part}`) : part.startsWith('[')))
    .map(([part, ranges]) => ({
      path: resolve(`${packageName}/files/${name}-${part.replace(/[[\]]/g, '')}${VARIANT}`),
      holds: inRanges(ranges),
    }));
  lists.set(packageName, made);
  return made;
}

const lists = new Map<string, readonly ScriptFile[]>();
const { resolve } = createRequire(import.meta.url);

/** Upright, with the one axis of weight. */
const VARIANT = '-wght-normal.woff2';

/** @param ranges as style sheets have them, `U+0590-05ff,U+200c` */
function inRanges(ranges: string): (codePoint: number) => boolean {
  const bounds = ranges.split(',').map((range) => {
    const [first = '', last = first] = range.slice('U+'.length).split('-');
    return [Number.parseInt(first, 16), Number.parseInt(last, 16)] as const;
  });
  return (codePoint) => bounds.some(([first, last]) => codePoint >= first && codePoint <= last);
}
