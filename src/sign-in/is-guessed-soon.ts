import { adjacencyGraphs, dictionary } from '@zxcvbn-ts/language-common';
import { foldPassword } from './fold-password.ts';
import { longKnownPasswords } from './long-known-passwords.ts';

/**
 * Whether a password is one that a guesser comes to early: one that many people had, or one that is made
 * of such by a rule. The rules are those by which guessers stretch short passwords: said again, put
 * together, with a year or a date at an end, letters and digits in their order, keys beside each other.
 */
export function isGuessedSoon(password: string): boolean {
  const said = foldPassword(password);
  if ([password.toLowerCase(), said].some((each) => isKnown(each))) return true;
  const unit = repeatedUnitOf(said);
  return (
    unit.length <= 4 ||
    isKnown(unit) ||
    isRun(said) ||
    isOfTwoKnown(said) ||
    isPadded(said) ||
    isWalk(said)
  );
}

/** Some fifty thousand passwords that many people had; nearly all are too short to be taken whole. */
const shortKnown: ReadonlySet<string> = new Set(dictionary['passwords']);

function isKnown(said: string): boolean {
  return shortKnown.has(said) || longKnownPasswords().has(said);
}

/** The shortest beginning that, said again and again, is the whole. */
function repeatedUnitOf(said: string): string {
  for (let length = 1; length < said.length; length += 1) {
    if (said.slice(length) === said.slice(0, -length)) return said.slice(0, length);
  }
  return said;
}

/** Letters or digits one after the other, up or down. */
function isRun(said: string): boolean {
  const codes = [...said].map((letter) => letter.codePointAt(0) ?? 0);
  const step = (codes[1] ?? 0) - (codes[0] ?? 0);
  return codes.every((code, at) => at === 0 || code - (codes[at - 1] ?? 0) === step);
}

function isOfTwoKnown(said: string): boolean {
  return [...Array(said.length).keys()].some(
    (at) => isKnown(said.slice(0, at)) && isKnown(said.slice(at)),
  );
}

/** A known one with a year or a date before or behind. */
function isPadded(said: string): boolean {
  const [, before = '', rest = '', behind = ''] = /^(\d*)(.*?)(\d*)$/su.exec(said) ?? [];
  return isKnown(rest) && [before, behind].every(({ length }) => length <= DATE_DIGITS);
}

/** A day, a month and a year of four digits. */
const DATE_DIGITS = 8;

/** Nothing but keys beside each other: `qaz wsx edc` as well as `asdfghjkl`. */
function isWalk(said: string): boolean {
  const letters = [...said];
  const starts = letters.flatMap((letter, at) => (isBeside(letters[at - 1], letter) ? [] : [at]));
  return starts.every((start, at) => (starts[at + 1] ?? letters.length) - start >= WALK_KEYS);
}

/** Fewer keys than that are beside each other in any word. */
const WALK_KEYS = 3;

/** On the keyboard of the country; the same key again is a step as well. */
function isBeside(one: string | undefined, other: string): boolean {
  if (one === undefined) return false;
  return one === other || (beside.get(one)?.some((keys) => keys?.includes(other)) ?? false);
}

const beside: ReadonlyMap<string, readonly (string | null)[]> = new Map(
  Object.entries(adjacencyGraphs.qwerty),
);
