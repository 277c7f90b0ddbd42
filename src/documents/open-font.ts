import { createRequire } from 'node:module';
import type { Font } from 'fontkit';

const require = createRequire(import.meta.url);

/**
 * Parses a typeface. The library is large and comes with the first of them: most processes answer
 * for long before a text has to be measured, and whoever measures cannot wait.
 * @param name what the file is called, for whoever reads the error
 * @throws Error when it holds several fonts
 */
export function openFont(file: Buffer, name: string): Font {
  const { create } = require('fontkit') as typeof import('fontkit');
  const font = create(file);
  if (!('layout' in font)) throw new Error(`${name} is a collection, not one font.`);
  return font;
}
