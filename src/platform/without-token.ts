/**
 * An address as it may be kept. What lets somebody in is left out: whatever stands below `/q/` or
 * `/calendar/`, at any place of the address, and whatever is as long as a token or longer, wherever it stands, save
 * the SHA-256 of a document. A proxy, a double slash or a path that was glued together put a link at
 * places where no route looks, and the router also knows letters that are written as percent signs,
 * so this does, also where the percent sign itself was written so again.
 */
export function withoutToken(address: string): string {
  const short = BELOW.reduce((text, { start, below }) => text.replace(below, start), address);
  return short.replace(RUNS, (run, letters?: string) => {
    const length = letters?.replace(/%(?:25)*../g, '.').length ?? 0;
    return length >= TOKEN_LETTERS && !SHA256.test(run) ? '[left out]' : run;
  });
}

const BELOW = ['q', 'calendar'].map((folder) => ({
  start: `/${folder}/[left out]`,
  below: new RegExp(`${written('/')}${[...folder].map(written).join('')}${written('/')}.*$`, 'is'),
}));

/** A letter of an address as it may be written: as it is, in capitals, or as a percent sign. */
function written(letter: string): string {
  const codes = [letter, letter.toUpperCase()].map((each) => each.charCodeAt(0).toString(16));
  return `(?:${letter}|%(?:25)*(?:${codes.join('|')}))`;
}

/** 32 random bytes in base64url. */
const TOKEN_LETTERS = 43;

const SHA256 = /^[0-9a-f]{64}$/;

/**
 * Runs of base64url letters, written as they are or as percent signs (`-`, `0-9`, `A-Z`, `_`,
 * `a-z`); any other letter behind a percent sign ends a run and belongs to none.
 */
const RUNS = /((?:[\w-]|%(?:25)*(?:2d|3\d|[46][1-9a-f]|[57][\da]|5f))+)|%(?:25)*[\da-f]{2}/gi;
