import { knownRefrigerant, type TaskCode, taskCodeSchema } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';
import { type ThingSaid, thingCalled, thingsSaid, type Verb } from './things-said.ts';
import {
  asidesSaid,
  checksSaid,
  conditionSaid,
  countsSaid,
  fillers,
  newSaid,
  notDoneSaid,
  placesBy,
  samesSaid,
  smallMaterials,
  soundSaid,
  strongBreaks,
  verbsSaid,
  weakBreaks,
  withSaid,
  wrongSaid,
} from './words-said.ts';

/** What a word, or several together, stands for. */
export type Meaning =
  | { readonly is: 'task'; readonly task: TaskCode }
  | { readonly is: 'thing'; readonly thing: ThingSaid }
  | { readonly is: 'verb'; readonly verb: Verb; readonly says: string }
  | { readonly is: 'figures'; readonly figures: FiguresSaid }
  | { readonly is: 'count'; readonly count: number }
  | { readonly is: PlainMeaning };

type PlainMeaning =
  | 'new'
  | 'check'
  | 'not_done'
  | 'sound'
  | 'wrong'
  | 'condition'
  | 'aside'
  | 'with'
  | 'same'
  | 'place_by'
  | 'filler'
  | 'small_material'
  | 'strong_break'
  | 'weak_break'
  | 'unknown';

/** With where it stands in the text. */
export type Tagged = Meaning & { readonly from: number; readonly to: number };

/** Says of every word of a text what it stands for; of several words together before one alone. */
export function tagWords(text: string): Tagged[] {
  const words = wordsOf(text.toLowerCase());
  const tagged: Tagged[] = [];
  for (let at = 0; at < words.length; ) {
    const { count, meaning } = phraseAt(words, at);
    const first = words[at];
    const last = words[at + count - 1];
    if (first === undefined || last === undefined) break;
    tagged.push({ ...meaning, from: first.from, to: last.to });
    at += count;
  }
  return tagged;
}

interface Word {
  text: string;
  /** Of what is no word but a figure, a code or a mark. */
  meaning?: Meaning;
  from: number;
  to: number;
}

/** A form of text that is no word, and what it stands for; undefined where it is none after all. */
type Form = readonly [pattern: RegExp, means: (found: string[]) => Meaning | undefined];

const forms: readonly Form[] = [
  [/[a-z]+(?:_[a-z]+)+/y, ([code]) => taskOf(code)],
  [/(\d+(?:\.\d+)?)\s*[/+x]\s*(\d+(?:\.\d+)?)\s*(uf|µf|μf|mfd|mf)\b/y, dualRating],
  [/(\d+(?:\.\d+)?)\s*\/\s*(\d+(?:\.\d+)?)\s*\/\s*(?:370|440)(?!\w)/y, dualRating],
  [/(\d+(?:\.\d+)?)\s*[/+]\s*(\d+(?:\.\d+)?)(?![\w/.])/y, dualRatingOrDay],
  [/\d{1,2}\/\d{1,2}\/\d{2,4}(?!\w)/y, () => ({ is: 'filler' })],
  [/\d+x\d+(?:x\d+)?(?!\w)/y, () => ({ is: 'filler' })],
  [/(\d+(?:\.\d+)?)[\s-]*(?:uf|µf|μf|mfd|mf|microfarads?)(?!\w)/y, figure('microfarads')],
  [/(\d+)[\s-]*(?:vac|volts?|v)(?!\w)/y, figure('volts')],
  // Before a current: 410A is a refrigerant.
  [/(\d{3}[a-z])(?:\s+(?:refrigerant|freon))?(?!\w)/y, ([, number]) => knownAs(number)],
  [/(\d+(?:\.\d+)?)[\s-]*(?:amps?|a)(?!\w)/y, figure('amps')],
  [/([1-4])[\s-]*(?:poles?|p)(?!\w)/y, figure('poles')],
  [/(\d+(?:\.\d+)?)[\s-]*tons?(?!\w)/y, figure('tons')],
  [
    /(\d{1,3}(?:\.\d{1,3})?)\s*(?:lbs?|pounds?)(?!\w)/y,
    ([, pounds]) => ({ is: 'figures', figures: pounds === undefined ? {} : { pounds } }),
  ],
  [
    /r-?\s?(\d{2,3}[a-z]?)(?:\s+(?:refrigerant|freon))?(?!\w)/y,
    ([, number]) => refrigerantOf(number),
  ],
  [/\$\s?\d[\d,]*(?:\.\d{2})?(?!\w)/y, () => ({ is: 'aside' })],
  [/\d+(?:\.\d+)?[\s-]*(?:hours?|hrs?)(?!\w)/y, () => ({ is: 'aside' })],
  [
    /\d+[\s-]*(?:years?|yrs?|months?|days?)[\s-]*(?:(?:limited|parts?|labor|full)[\s-]+)?(?:warranty|guarantee)(?!\w)/y,
    () => ({ is: 'aside' }),
  ],
  [/\d+(?:\.\d+)?[\s-]*(?:degrees?|deg|°\s?f?)(?!\w)/y, () => ({ is: 'filler' })],
  [/\(([1-9])\)/y, ([, count]) => ({ is: 'count', count: Number(count) })],
  [/[1-9](?![\w.])/y, ([count]) => ({ is: 'count', count: Number(count) })],
  // Not a question mark: what is asked was not done.
  [/[.;\n()!]+/y, () => ({ is: 'strong_break' })],
  [/[,&+/]+/y, () => ({ is: 'weak_break' })],
  [/[:"'*#–—-]+/y, () => ({ is: 'filler' })],
];

function wordsOf(text: string): Word[] {
  const words: Word[] = [];
  for (let from = 0; from < text.length; ) {
    if (/\s/.test(text.charAt(from)) && text.charAt(from) !== '\n') from += 1;
    else {
      const word = wordAt(text, from);
      words.push(word);
      from = word.to;
    }
  }
  return words;
}

function wordAt(text: string, from: number): Word {
  const plain = matchAt(/r&r|r\/r|a\/c|[a-z]+(?:'[a-z]+)?(?![a-z0-9_])/y, text, from);
  const isRefrigerant = matchAt(/r-?\s?\d{2,3}[a-z]?(?!\w)/y, text, from) !== undefined;
  if (plain !== undefined && !isRefrigerant && !/^_/.test(text.slice(from + plain.length))) {
    return { text: plain, from, to: from + plain.length };
  }
  for (const [pattern, means] of forms) {
    pattern.lastIndex = from;
    const found = pattern.exec(text);
    const meaning = found === null ? undefined : means([...found]);
    if (found !== null && meaning !== undefined) {
      return { text: found[0], meaning, from, to: from + found[0].length };
    }
  }
  const unknown = matchAt(/[^\s.,;()&+/]+|./suy, text, from) ?? text.charAt(from);
  return { text: unknown, meaning: { is: 'unknown' }, from, to: from + unknown.length };
}

function matchAt(pattern: RegExp, text: string, from: number): string | undefined {
  pattern.lastIndex = from;
  return pattern.exec(text)?.[0];
}

function taskOf(code: string | undefined): Meaning {
  const task = taskCodeSchema.safeParse(code);
  return task.success ? { is: 'task', task: task.data } : { is: 'unknown' };
}

function dualRating([, larger, smaller]: string[]): Meaning | undefined {
  const [hermUf, fanUf] = [Number(larger), Number(smaller)];
  return hermUf > fanUf ? { is: 'figures', figures: { hermUf, fanUf } } : undefined;
}

/** Without its unit a rating could be a day, whose first number is a month. */
function dualRatingOrDay(found: string[]): Meaning | undefined {
  const [, first, second] = found.map(Number);
  if (first === undefined || second === undefined) return undefined;
  if (first > MONTHS) return dualRating(found);
  return second <= DAYS ? { is: 'filler' } : undefined;
}

const MONTHS = 12;
const DAYS = 31;

function figure(name: Exclude<keyof FiguresSaid, 'pounds' | 'refrigerant'>) {
  return ([, value]: string[]): Meaning => ({ is: 'figures', figures: { [name]: Number(value) } });
}

function refrigerantOf(number: string | undefined): Meaning {
  const known = knownRefrigerant(`R-${number?.toUpperCase()}`);
  if (known === undefined) return { is: 'unknown' };
  return { is: 'thing', thing: { ...thingCalled('refrigerant'), refrigerant: known } };
}

/** The same without its R; a number that is none may be something else. */
function knownAs(number: string | undefined): Meaning | undefined {
  const meaning = refrigerantOf(number);
  return meaning.is === 'unknown' ? undefined : meaning;
}

/** The longest phrase that begins at a word. */
function phraseAt(words: readonly Word[], at: number): { count: number; meaning: Meaning } {
  const first = words[at];
  if (first?.meaning !== undefined) return { count: 1, meaning: first.meaning };
  for (let count = longest.get(first?.text ?? '') ?? 0; count > 0; count -= 1) {
    const together = words.slice(at, at + count);
    if (together.length < count || together.some(standsInNoPhrase)) continue;
    const text = together.flatMap(({ text, meaning }) => inPhrase(text, meaning)).join(' ');
    const meaning = meanings.get(text);
    // A hyphen at the end would belong to what follows.
    if (meaning !== undefined && together.at(-1)?.meaning === undefined) return { count, meaning };
  }
  return { count: 1, meaning: { is: 'unknown' } };
}

/** A hyphen within a phrase says nothing, and a sign may stand for an *and*: `parts & labor`. */
function standsInNoPhrase({ text, meaning }: Word): boolean {
  return meaning !== undefined && meaning.is !== 'filler' && !signsOfAnd.has(text);
}

function inPhrase(text: string, meaning: Meaning | undefined): string[] {
  if (signsOfAnd.has(text)) return ['and'];
  return meaning === undefined ? [text] : [];
}

const signsOfAnd: ReadonlySet<string> = new Set(['&', '+', '/']);

const meanings: ReadonlyMap<string, Meaning> = new Map<string, Meaning>([
  ...plainly('small_material', smallMaterials),
  ...plainly('filler', fillers),
  ...plainly('place_by', placesBy),
  ...plainly('condition', conditionSaid),
  ...plainly('aside', asidesSaid),
  ...plainly('with', withSaid),
  ...plainly('same', samesSaid),
  ...plainly('wrong', wrongSaid),
  ...plainly('sound', soundSaid),
  ...plainly('not_done', notDoneSaid),
  ...plainly('check', checksSaid),
  ...plainly('strong_break', strongBreaks),
  ...plainly('weak_break', weakBreaks),
  ...plainly('new', [newSaid]),
  ...Object.entries(countsSaid).map(([says, count]): [string, Meaning] => [
    says,
    { is: 'count', count },
  ]),
  ...Object.entries(verbsSaid).flatMap(([verb, list]) =>
    // Object.entries forgets that the keys of a record of verbs are verbs.
    list.map((says): [string, Meaning] => [says, { is: 'verb', verb: verb as Verb, says }]),
  ),
  ...thingsSaid.flatMap((thing) =>
    thing.says.map((says): [string, Meaning] => [says, { is: 'thing', thing }]),
  ),
]);

function plainly(is: PlainMeaning, list: readonly string[]): [string, Meaning][] {
  return list.map((says) => [says, { is }]);
}

/** By the first word, how many words the longest phrase has that begins with it. */
const longest: ReadonlyMap<string, number> = [...meanings.keys()].reduce((known, says) => {
  const [first = '', ...others] = says.split(' ');
  // A hyphen that is left out stands between two words at most.
  return known.set(first, Math.max(known.get(first) ?? 0, 1 + 2 * others.length));
}, new Map<string, number>());
