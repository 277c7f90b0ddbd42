import { faultCatalog, type TaskCode, taskCodeSchema, taskWords } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';
import { hasSuchFigures } from './has-such-figures.ts';
import { figuresIn, readSegment, type SegmentSaid, type WorkSaid } from './read-segment.ts';
import { segmentsOf } from './segments-of.ts';
import { shareVerb } from './share-verb.ts';
import type { ThingSaid } from './things-said.ts';

/** What the words of a bill say was done; no work where something was only looked at. */
export type WorkReading =
  | { readonly outcome: 'understood'; readonly work: readonly ReadWork[] }
  /** In whole sentences; something is not understood as soon as one of its words is not. */
  | { readonly outcome: 'not_understood'; readonly reasons: readonly string[] };

/** One piece of work in the words of our catalog. */
export interface ReadWork {
  /** The task, or those that it may have been where the bill does not say which. */
  readonly taskCodes: readonly TaskCode[];
  /** The faults that it is known to mend, by code. */
  readonly faultCodes: readonly string[];
  readonly figures: FiguresSaid;
  readonly quantity: number;
}

/**
 * Reads what a bill says was done, in the words of the trade or in our own codes and names. It never
 * guesses: one strange word in a sentence, a thing without a verb, or a refusal in the wrong place,
 * and it says what it did not understand.
 * @param said.found what the bill says was found: it may name the fault, or the rating of a part
 */
export function readWork({ done, found = '' }: { done: string; found?: string }): WorkReading {
  const work: WorkSaid[] = [];
  const reasons: string[] = [];
  let wasLookedAt = false;
  for (const sentence of sentencesOf(done)) {
    for (const { text, said } of readSentence(sentence)) {
      if (said.is === 'unclear') reasons.push(`Not understood: “${text}”.`);
      else if (said.is === 'nothing') addFigures(work, said.figures);
      else if (said.is === 'work') work.push(said);
      else wasLookedAt = true;
    }
  }
  if (work.length === 0 && !wasLookedAt && reasons.length === 0) reasons.push(NOTHING_SAID);
  const read = work.map((each) => inOurWords(each, found));
  if (read.some(({ taskCodes }) => taskCodes.length === 0)) reasons.push(FIGURES_UNFIT);
  if (isNamedTwice(read)) reasons.push(NAMED_TWICE);
  return reasons.length > 0
    ? { outcome: 'not_understood', reasons }
    : { outcome: 'understood', work: read };
}

const NOTHING_SAID = 'The bill does not say what was done.';
const NAMED_TWICE = 'The bill names the same work twice; it may be one, or two.';
const FIGURES_UNFIT = 'The bill gives a part a rating that such parts do not have.';

/** At its ends a full stop, a semicolon or a new line; a point within a figure is none. */
function sentencesOf(text: string): string[] {
  return text
    .split(/[;\n!?]|\.(?!\d)/)
    .map((sentence) => sentence.trim())
    .filter((sentence) => sentence !== '');
}

function readSentence(sentence: string): { text: string; said: SegmentSaid }[] {
  const task = taskByName.get(plain(sentence));
  if (task !== undefined) {
    const said: SegmentSaid = { is: 'work', taskCodes: [task], figures: {}, quantity: 1 };
    return [{ text: sentence, said }];
  }
  const segments = segmentsOf(sentence);
  const read: SegmentSaid[] = [];
  for (const segment of segments) {
    read.push(readSegment(segment, segment.goesOn ? read.at(-1) : undefined));
  }
  const shared = shareVerb(segments, read);
  return segments.flatMap(({ text }, at) => {
    const said = shared[at];
    return said === undefined ? [] : [{ text, said }];
  });
}

const taskByName = new Map(
  taskCodeSchema.options.map((code): [string, TaskCode] => [plain(taskWords[code].name), code]),
);

function plain(text: string): string {
  return text.toLowerCase().replaceAll(/\s+/g, ' ').trim();
}

/** Figures that stand by themselves after a comma belong to the work before. */
function addFigures(work: WorkSaid[], figures: FiguresSaid): void {
  const last = work.pop();
  if (last !== undefined) work.push({ ...last, figures: { ...last.figures, ...figures } });
}

function inOurWords({ thing, figures: own, ...said }: WorkSaid, found: string): ReadWork {
  const figures = Object.keys(own).length > 0 ? own : figuresFound(thing, found);
  const taskCodes = said.taskCodes.filter((task) => hasSuchFigures(task, figures));
  const faultCodes = faultsOf(taskCodes, found);
  return { taskCodes, faultCodes, figures, quantity: said.quantity };
}

/** The figures of the same thing where the bill says what was found; other words may be strange. */
function figuresFound(thing: ThingSaid | undefined, found: string): FiguresSaid {
  const tasks = Object.values(thing?.done ?? {}).flat();
  for (const { tags } of segmentsOf(found)) {
    const isOfIt = tags.some(
      (tag) =>
        tag.is === 'thing' &&
        Object.values(tag.thing.done)
          .flat()
          .some((task) => tasks.includes(task)),
    );
    if (isOfIt) return figuresIn(tags);
  }
  return {};
}

function faultsOf(taskCodes: readonly TaskCode[], found: string): string[] {
  const mended = faultCatalog.filter(({ remedies }) =>
    remedies.some(({ task }) => taskCodes.includes(task)),
  );
  const said = mended.filter(({ code, name }) => [code, plain(name)].includes(plain(found)));
  return (said.length > 0 ? said : mended).map(({ code }) => code).sort();
}

function isNamedTwice(work: readonly ReadWork[]): boolean {
  const tasks = work.map(({ taskCodes }) => [...taskCodes].sort().join());
  return new Set(tasks).size < tasks.length;
}
