import type { TaskCode } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';
import type { Segment } from './segments-of.ts';
import type { Tagged } from './tag-words.ts';
import type { ThingSaid, Verb } from './things-said.ts';
import { imperatives } from './words-said.ts';

/** What one stretch of a text says. */
export type SegmentSaid =
  | ({ readonly is: 'work'; readonly verb?: Verb } & WorkSaid)
  /** Something was looked at, or seen to be sound or not. */
  | { readonly is: 'looked' }
  | { readonly is: 'not_done' }
  /** Figures alone, or words that say nothing of the work. */
  | { readonly is: 'nothing'; readonly figures: FiguresSaid }
  /** Care that goes with other work, which no price book lists. */
  | { readonly is: 'care' }
  /** Done to something that was named before: `replaced it`, `restored power`. */
  | { readonly is: 'of_same'; readonly verb: Verb }
  | { readonly is: 'unclear' };

/** Work on one thing, as a text says it. */
export interface WorkSaid {
  /** One, or those that it may have been. */
  readonly taskCodes: readonly TaskCode[];
  readonly thing?: ThingSaid;
  readonly figures: FiguresSaid;
  readonly quantity: number;
}

/**
 * Reads one stretch of a text. Every word of it must be known, and they must leave no doubt: work on
 * a thing that is said to be sound, two things with one verb, or a refusal after the work are unclear.
 * @param before what the stretch before said, where this one goes on with it
 */
export function readSegment(segment: Segment, before: SegmentSaid | undefined): SegmentSaid {
  const { tags } = segment;
  if (tags.some(({ is }) => is === 'unknown' || is === 'small_material')) return { is: 'unclear' };
  if (tags.some((_, place) => isWithSomethingElse(tags, place))) return { is: 'unclear' };
  const at = (is: Tagged['is']) => tags.findIndex((tag) => tag.is === is);
  const task = tags.find((tag) => tag.is === 'task');
  if (task !== undefined) {
    const isAlone = tags.every(({ is }) => is === 'task' || is === 'filler');
    const isOne = tags.filter(({ is }) => is === 'task').length === 1;
    if (!isAlone || !isOne) return { is: 'unclear' };
    return { is: 'work', taskCodes: [task.task], figures: {}, quantity: 1 };
  }
  const verbAt = at('verb');
  const notDoneAt = at('not_done');
  if (notDoneAt >= 0) {
    const isAfterVerb = verbAt >= 0 && verbAt < notDoneAt;
    return isAfterVerb ? { is: 'unclear' } : { is: 'not_done' };
  }
  if (verbAt >= 0) return readWorkDone(tags, verbAt);
  return readWithoutVerb(segment, before);
}

/** `With` says more of what was named; with another thing nobody knows to which something was done. */
function isWithSomethingElse(tags: readonly Tagged[], at: number): boolean {
  if (tags[at]?.is !== 'with') return false;
  const next = tags.slice(at + 1).find(({ is }) => is !== 'filler');
  if (next?.is === 'thing') return next.thing.part !== 'refrigerant';
  return next?.is !== 'figures' && next?.is !== 'aside';
}

function readWorkDone(tags: readonly Tagged[], verbAt: number): SegmentSaid {
  const verb = tags[verbAt];
  const thingAt = tags.findIndex(({ is }) => is === 'thing');
  const thing = tags[thingAt];
  const things = tags.filter(({ is }) => is === 'thing');
  const isDoubtful = tags.some(({ is }) => is === 'sound' || is === 'check');
  if (verb?.is !== 'verb' || isDoubtful || things.length > 1) return { is: 'unclear' };
  if (thing?.is !== 'thing') return readWithoutThing(tags, verb.verb);
  // To replace it is not to have replaced it.
  if (tags[verbAt - 1]?.is === 'place_by') return { is: 'unclear' };
  if (thingAt < verbAt && imperatives.has(verb.says)) return { is: 'unclear' };
  return workOn(thing.thing, verb.verb, tags);
}

/** To what it was done, what was said before may tell; what is reset may be called by its power. */
function readWithoutThing(tags: readonly Tagged[], verb: Verb): SegmentSaid {
  const isSame = verb === 'reset' || tags.some(({ is }) => is === 'same');
  return isSame ? { is: 'of_same', verb } : { is: 'unclear' };
}

function readWithoutVerb(
  { tags, afterComma }: Segment,
  before: SegmentSaid | undefined,
): SegmentSaid {
  const thingAt = tags.findIndex(({ is }) => is === 'thing');
  const thing = tags[thingAt];
  const has = (is: Tagged['is']) => tags.some((tag) => tag.is === is);
  if (has('check')) return readLook(tags);
  if (thing?.is !== 'thing') return { is: 'nothing', figures: figuresIn(tags) };
  const wrongAfter = tags.slice(thingAt).some(({ is }) => is === 'wrong' || is === 'condition');
  if (has('sound') || wrongAfter) return { is: 'looked' };
  const isOne = tags.filter(({ is }) => is === 'thing').length === 1;
  if (before?.is === 'not_done' && !afterComma) return { is: 'not_done' };
  if (before?.is !== 'work' || before.verb === undefined || !isOne) return { is: 'unclear' };
  return workOn(thing.thing, before.verb, tags);
}

/** Looking is within the visit fee; looking for what is hidden, such as a leak, is a task. */
function readLook(tags: readonly Tagged[]): SegmentSaid {
  const things = tags.flatMap((tag) => (tag.is === 'thing' ? [tag.thing] : []));
  const hidden = things.find(({ done }) => done.trace !== undefined);
  if (hidden === undefined) return { is: 'looked' };
  return things.length > 1 ? { is: 'unclear' } : workOn(hidden, 'trace', tags);
}

/** What was done to a thing, with the figures that stand with it; unclear where that is no task. */
export function workOn(thing: ThingSaid, verb: Verb, tags: readonly Tagged[]): SegmentSaid {
  const taskCodes = thing.done[verb];
  if (taskCodes === undefined) return { is: 'unclear' };
  return taskCodes.length === 0 ? { is: 'care' } : workOf(thing, taskCodes, tags, verb);
}

/** Work on a thing, by the tasks that it may have been; unclear where it is one thing and several. */
export function workOf(
  thing: ThingSaid,
  taskCodes: readonly TaskCode[],
  tags: readonly Tagged[],
  verb?: Verb,
): SegmentSaid {
  const quantity = countIn(tags) ?? thing.uncounted ?? 1;
  const isTooMany = quantity > 1 && thing.inSeveral !== true;
  if (isTooMany || quantity === 0) return { is: 'unclear' };
  const { refrigerant } = thing;
  const figures = { ...figuresIn(tags), ...(refrigerant !== undefined && { refrigerant }) };
  return { is: 'work', ...(verb && { verb }), thing, taskCodes, figures, quantity };
}

function countIn(tags: readonly Tagged[]): number | undefined {
  return tags.flatMap((tag) => (tag.is === 'count' ? [tag.count] : [])).at(-1);
}

/** The figures of a stretch together. */
export function figuresIn(tags: readonly Tagged[]): FiguresSaid {
  let all: FiguresSaid = {};
  for (const tag of tags) if (tag.is === 'figures') all = { ...all, ...tag.figures };
  return all;
}
