import { readFileSync } from 'node:fs';
import { sha256 } from '../platform/sha256.ts';

/** The pages' one style sheet. */
export const stylesheetText = readFileSync(new URL('./page.css', import.meta.url), 'utf8');

/** Where it stands. The address changes with the content, so that it may be kept for good. */
export const stylesheetPath = `/page-${sha256(stylesheetText).slice(0, 16)}.css`;
