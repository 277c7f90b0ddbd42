import { faultCatalog, type TaskCode } from '../../trade/index.ts';
import type { FiguresSaid } from './figures-said.ts';
import { hasSuchFigures } from './has-such-figures.ts';
import { figuresIn, type WorkSaid } from './read-segment.ts';
import { plain, readStretches, type Stretch, thingsIn } from './read-stretches.ts';
import { segmentsOf } from './segments-of.ts';
import type { ThingSaid } from './things-said.ts';

/** What the words of a bill say was done; no work where something was only looked at. */
export type WorkReading =
  | {
      readonly outcome: 'understood';
      readonly work: readonly ReadWork[];
      /** What was taken where the bill says little, in whole sentences. */
      readonly taken: readonly string[];
    }
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
  const stretches = readStretches(done, found);
  const work: WorkSaid[] = [];
  const reasons: string[] = [];
  for (const { text, said } of stretches) {
    if (said.is === 'unclear') reasons.push(`Not understood: “${text}”.`);
    else if (said.is === 'nothing') addFigures(work, said.figures);
    else if (said.is === 'work') work.push(said);
  }
  const wasLookedAt = stretches.some(({ said }) => said.is === 'looked' || said.is === 'not_done');
  if (work.length === 0 && reasons.length === 0) {
    const care = stretches.filter(({ said }) => said.is === 'care');
    reasons.push(...care.map(({ text }) => `The price book has no task for “${text}”.`));
    if (care.length === 0 && !wasLookedAt) reasons.push(NOTHING_SAID);
  }
  const read = work.map((each) => inOurWords(each, found));
  if (read.some(({ taskCodes }) => taskCodes.length === 0)) reasons.push(FIGURES_UNFIT);
  if (isNamedTwice(read)) reasons.push(NAMED_TWICE);
  return reasons.length > 0
    ? { outcome: 'not_understood', reasons }
    : { outcome: 'understood', work: read, taken: stretches.flatMap(takenFor) };
}

const NOTHING_SAID = 'The bill does not say what was done.';
const NAMED_TWICE = 'The bill names the same work twice; it may be one, or two.';
const FIGURES_UNFIT = 'The bill gives a part a rating that such parts do not have.';

function takenFor({ text, said, isOnlyNamed }: Stretch): string[] {
  if (isOnlyNamed) return [`The bill only names “${text}”: that it was put in is taken.`];
  if (said.is !== 'care') return [];
  return [`“${text}” is taken as part of the other work: the price book has no task for it.`];
}

/** Figures that stand by themselves after a comma belong to the work before. */
function addFigures(work: WorkSaid[], figures: FiguresSaid): void {
  const last = work.pop();
  if (last !== undefined) work.push({ ...last, figures: { ...last.figures, ...figures } });
}

/** Work as it was said, in the words of our catalog. */
export function inOurWords({ thing, figures: own, ...said }: WorkSaid, found: string): ReadWork {
  const figures = Object.keys(own).length > 0 ? own : figuresFound(thing, found);
  const fitting = said.taskCodes.filter((task) => hasSuchFigures(task, figures));
  const taskCodes = asFound(fitting, thing, found);
  const faultCodes = faultsOf(taskCodes, found);
  return { taskCodes, faultCodes, figures, quantity: said.quantity };
}

/** The figures of the same thing where the bill says what was found; other words may be strange. */
function figuresFound(thing: ThingSaid | undefined, found: string): FiguresSaid {
  const tasks = tasksOn(thing);
  for (const { tags } of segmentsOf(found)) {
    if (thingsIn(tags).some((each) => tasksOn(each).some((task) => tasks.includes(task)))) {
      return figuresIn(tags);
    }
  }
  return {};
}

/** What was found may say which of several it was: `blown fuse on board`, `replaced fuse`. */
function asFound(
  taskCodes: readonly TaskCode[],
  thing: ThingSaid | undefined,
  found: string,
): readonly TaskCode[] {
  if (thing === undefined) return taskCodes;
  const bad = segmentsOf(found).filter(({ tags }) => !tags.some(({ is }) => is === 'sound'));
  const same = thingsIn(bad.flatMap(({ tags }) => tags)).filter((each) =>
    tasksOn(each).some((task) => taskCodes.includes(task)),
  );
  const [only, ...others] = same;
  if (only === undefined || others.length > 0) return taskCodes;
  return taskCodes.filter((task) => tasksOn(only).includes(task));
}

function tasksOn(thing: ThingSaid | undefined): TaskCode[] {
  return Object.values(thing?.done ?? {}).flat();
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
