/**
 * What somebody signs in with, in a few words, by what the program says of itself (RFC 9110, section
 * 10.1.5): of a browser its name and its system, as `Firefox, Windows`; of any other program the first
 * name it has, as `curl`. It says what it likes, so this is a help to remember by and proves nothing.
 * @returns undefined where nothing of use is said
 */
export function programOf(userAgent: string | undefined): string | undefined {
  const said = userAgent?.slice(0, SAID_MAX) ?? '';
  const browser = nameIn(said, browsers);
  if (browser !== undefined) return [browser, nameIn(said, systems)].filter(Boolean).join(', ');
  // Browsers all begin with this word, so it tells nothing.
  const [first] = /^[\w!#$%&'*+.^`|~-]{1,60}(?![\w!#$%&'*+.^`|~-])/.exec(said) ?? [];
  return first === 'Mozilla' ? undefined : first;
}

/** Longer than what any browser says; of more than that only the beginning is read. */
const SAID_MAX = 400;

type Named = readonly (readonly [name: string, token: RegExp])[];

/**
 * By which word each tells itself, the first that is found: most also name those they want to be taken
 * for (MDN, "Browser detection using the user agent string").
 */
const browsers: Named = [
  ['Edge', /Edg(?:e|A|iOS)?\//],
  ['Opera', /OPR\//],
  ['Samsung Internet', /SamsungBrowser\//],
  ['Firefox', /(?:Firefox|FxiOS)\//],
  ['Chrome', /(?:Chrome|CriOS)\//],
  ['Safari', /Safari\//],
];

const systems: Named = [
  ['iPhone', /\(iPhone;/],
  ['iPad', /\(iPad;/],
  ['Android', /\bAndroid\b/],
  ['Windows', /\bWindows NT\b/],
  ['Mac', /\(Macintosh;/],
  ['Chromebook', /\bCrOS\b/],
  ['Linux', /\bLinux\b/],
];

function nameIn(said: string, named: Named): string | undefined {
  return named.find(([, token]) => token.test(said))?.[0];
}
