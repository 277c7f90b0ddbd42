import { type TaskCode, taskCodeSchema, taskWords } from '../../trade/index.ts';
import { readNamed } from './read-named.ts';
import { readSegment, type SegmentSaid, workOn } from './read-segment.ts';
import { segmentsOf } from './segments-of.ts';
import { shareVerb } from './share-verb.ts';
import { type Tagged, tagWords } from './tag-words.ts';
import type { ThingSaid } from './things-said.ts';

/** A stretch of a text as it was written, and what it says. */
export interface Stretch {
  readonly text: string;
  readonly tags: readonly Tagged[];
  readonly said: SegmentSaid;
  /** It names a thing and nothing that was done. */
  readonly isOnlyNamed?: true;
}

/**
 * Reads what a bill says was done, stretch by stretch, each beside those before it.
 * @param found what the bill says was found: it may name what something was done to
 */
export function readStretches(done: string, found: string): readonly Stretch[] {
  const stretches = readNamed(sentencesOf(done).flatMap(readSentence));
  const read: Stretch[] = [];
  for (const stretch of stretches) read.push(ofSame(stretch, read, found));
  return read;
}

/** At its ends a full stop, a semicolon or a new line; a point within a figure is none. */
function sentencesOf(text: string): string[] {
  return text
    .replace(ABBREVIATED, '$1')
    .split(/[;\n!]|\.(?!\d)/)
    .map((sentence) => sentence.trim())
    .filter((sentence) => sentence !== '');
}

/** A point that ends no sentence: `incl. labor`, `2 lbs. R-410A`. */
const ABBREVIATED = /\b(incl|yrs?|hrs?|lbs?)\.(?=\s+(?:[a-z0-9]|R-?\d))/g;

function readSentence(sentence: string): Stretch[] {
  const task = taskByName.get(plain(sentence));
  if (task !== undefined) {
    const said: SegmentSaid = { is: 'work', taskCodes: [task], figures: {}, quantity: 1 };
    return [{ text: sentence, tags: [], said }];
  }
  const segments = segmentsOf(sentence);
  const read: SegmentSaid[] = [];
  for (const segment of segments) {
    read.push(readSegment(segment, segment.goesOn ? read.at(-1) : undefined));
  }
  const shared = shareVerb(segments, read);
  return segments.flatMap(({ text, tags }, at) => {
    const said = shared[at];
    return said === undefined ? [] : [{ text, tags, said }];
  });
}

const taskByName = new Map(
  taskCodeSchema.options.map((code): [string, TaskCode] => [plain(taskWords[code].name), code]),
);

/** In lower case, with single spaces. */
export function plain(text: string): string {
  return text.toLowerCase().replaceAll(/\s+/g, ' ').trim();
}

/**
 * What was done to *it*: the only thing that was named before, or else the only one that was found.
 * Power that is back after other work is no work of its own.
 */
function ofSame(stretch: Stretch, before: readonly Stretch[], found: string): Stretch {
  const { said, tags } = stretch;
  if (said.is !== 'of_same') return stretch;
  const { verb } = said;
  if (verb === 'reset' && before.some((each) => each.said.is === 'work')) {
    return { ...stretch, said: { is: 'looked' } };
  }
  const named = thingsIn(before.flatMap((each) => each.tags));
  const [thing, ...others] = named.length > 0 ? named : thingsIn(tagWords(found));
  const isSure = thing !== undefined && others.length === 0;
  return { ...stretch, said: isSure ? workOn(thing, verb, tags) : { is: 'unclear' } };
}

/** Each thing once. */
export function thingsIn(tags: readonly Tagged[]): ThingSaid[] {
  return [...new Set(tags.flatMap((tag) => (tag.is === 'thing' ? [tag.thing] : [])))];
}
