import { readFileSync } from 'node:fs';
import { sha256 } from '../platform/sha256.ts';

const text = readFileSync(new URL('./page.css', import.meta.url), 'utf8');

/** The pages' one style sheet. Its address changes with its content, so it may be kept for good. */
export const stylesheet = {
  text,
  path: `/your-quote/page-${sha256(text).slice(0, 16)}.css`,
} as const;
