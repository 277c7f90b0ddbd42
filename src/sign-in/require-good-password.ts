import { wrongField } from '../platform/http/problem.ts';
import { foldPassword } from './fold-password.ts';
import { isGuessedSoon } from './is-guessed-soon.ts';

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
  if (isGuessedSoon(password)) {
    return [
      'too_common',
      'This is easy to guess. Use four or more words that do not belong together.',
    ];
  }
  const said = foldPassword(password);
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

/** Whether little is left of it without these names and their words. */
function isOf(names: readonly string[], said: string): boolean {
  const words = names.flatMap((name) => name.split(/[^\p{L}\p{N}]+/u));
  const known = [...names, ...words].map(foldPassword).filter(({ length }) => length >= 3);
  const rest = known
    .sort((one, other) => other.length - one.length)
    .reduce((left, word) => left.replaceAll(word, ''), said);
  return rest.length < REST_MIN && rest !== said;
}

/** Half a password: what is left has to be one by itself. */
const REST_MIN = 8;
