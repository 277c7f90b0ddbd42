import { dictionary } from '@zxcvbn-ts/language-common';
import { wrongField } from '../platform/http/problem.ts';

/** Whose password it is to be. */
export interface Person {
  name: string;
  email: string | null;
  /** The name of the company; there is none yet where the first owner sets theirs. */
  company: string | undefined;
}

/**
 * Refuses a password that is guessed soon: a short one, a common one, or hardly more than names: of
 * whoever it belongs to, of the company and of this program. Which letters it is made of is nobody's
 * business (NIST SP 800-63B-4, section 3.1.1.2).
 * @throws ProblemError 400 that names the field and says what to do
 */
export function requireGoodPassword(field: string, password: string, person: Person): void {
  const fault = faultOf(password, person);
  if (fault !== undefined) throw wrongField(field, ...fault);
}

type Fault = readonly [code: string, message: string];

function faultOf(password: string, person: Person): Fault | undefined {
  const { length } = [...password.normalize('NFC')];
  if (!password.isWellFormed()) return ['not_text', 'This has characters that are not text.'];
  if (length < LETTERS_MIN) {
    return ['too_short', `Use at least ${LETTERS_MIN} characters. Four or more words do well.`];
  }
  if (length > LETTERS_MAX) return ['too_long', `Use at most ${LETTERS_MAX} characters.`];
  const said = folded(password);
  if (isCommon(password, said)) {
    return [
      'too_common',
      'This is easy to guess. Use four or more words that do not belong together.',
    ];
  }
  const names = [person.name, person.email ?? ''];
  if (isOf(names, said)) return ['of_the_person', 'Leave your name and e-mail out of it.'];
  if (isOf([...names, person.company ?? '', PROGRAM], said)) {
    return [
      'of_the_company',
      'This is hardly more than names that are tried first: the company’s, this program’s and yours. ' +
        'Use other words.',
    ];
  }
  return undefined;
}

const PROGRAM = 'Evenhand';

const LETTERS_MIN = 15;
const LETTERS_MAX = 128;

/** What a guesser tries first: some fifty thousand passwords that many people had. */
const common: ReadonlySet<string> = new Set(dictionary['passwords']);

/** The same for whoever guesses: capitals, blanks and signs between make no difference. */
function folded(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}

function isCommon(password: string, said: string): boolean {
  if (common.has(password.toLowerCase()) || common.has(said)) return true;
  const unit = repeatedUnitOf(said);
  return unit.length <= 4 || common.has(unit) || isRun(said) || isOfTwoCommon(said);
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

function isOfTwoCommon(said: string): boolean {
  return [...Array(said.length).keys()].some(
    (at) => common.has(said.slice(0, at)) && common.has(said.slice(at)),
  );
}

/** Whether little is left of it without these names and their words. */
function isOf(names: readonly string[], said: string): boolean {
  const words = names.flatMap((name) => name.split(/[^\p{L}\p{N}]+/u));
  const known = [...names, ...words].map(folded).filter(({ length }) => length >= 3);
  const rest = known
    .sort((one, other) => other.length - one.length)
    .reduce((left, word) => left.replaceAll(word, ''), said);
  return rest.length < REST_MIN && rest !== said;
}

/** Half a password: what is left has to be one by itself. */
const REST_MIN = 8;
