/** Typefaces for letters beyond Latin, Greek and Cyrillic, each cut into files by its publisher. */
export interface ScriptFamily {
  /** The package that holds it. */
  packageName: string;
  /** Which of the package's files are wanted: its own script's one, or the many that it numbers. */
  files: 'one' | 'numbered';
}

/**
 * The families in the order in which they are asked for a character. One character of Han may be
 * drawn in four ways, so the order of those that have it follows what else the paper says: kana make
 * it Japanese, Hangul Korean, and without either it is Chinese.
 */
export function scriptFamilies(text: string): readonly ScriptFamily[] {
  return [...OWN_SCRIPT, ...hanOrder(text).map((region) => numbered(region))];
}

function hanOrder(text: string): readonly string[] {
  if (/[\p{Script=Hiragana}\p{Script=Katakana}]/u.test(text)) return ['jp', 'sc', 'tc', 'kr'];
  if (/\p{Script=Hangul}/u.test(text)) return ['kr', 'sc', 'tc', 'jp'];
  return ['sc', 'tc', 'jp', 'kr'];
}

const OWN_SCRIPT: readonly ScriptFamily[] = [
  'hebrew',
  'arabic',
  'devanagari',
  'bengali',
  'gurmukhi',
  'gujarati',
  'oriya',
  'tamil',
  'telugu',
  'kannada',
  'malayalam',
  'sinhala',
  'thai',
  'lao',
  'myanmar',
  'khmer',
  'armenian',
  'georgian',
  'ethiopic',
].map((script) => ({ packageName: packageOf(script), files: 'one' }));

function numbered(region: string): ScriptFamily {
  return { packageName: packageOf(region), files: 'numbered' };
}

function packageOf(name: string): string {
  return `@fontsource-variable/noto-sans-${name}`;
}
