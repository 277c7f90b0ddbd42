import { coveredBy, type PartCategory, type TaskCode } from '../../trade/index.ts';
import type { BilledPart } from '../jobs/job-facts.ts';
import type { FairBook, FairPart } from './fair-book.ts';
import type { FiguresSaid } from './figures-said.ts';
import { hasSuchFigures } from './has-such-figures.ts';
import { categoriesOf } from './parts-that-fit.ts';
import { type PartReading, readPart } from './read-part.ts';
import type { ReadWork } from './read-work.ts';

/** A piece of work with what the bill's list of parts adds to it. */
export interface WorkWithParts extends ReadWork {
  /** Parts of our price book that the bill names by their codes. */
  readonly namedParts: readonly FairPart[];
}

/**
 * Puts the parts that a bill lists to the work they went into: they may tell a rating, a quantity or
 * the very part. Work that is done with other work, as the charge with a compressor, joins it.
 * @returns with whole sentences about the parts that belong to no work
 */
export function workWithParts(
  read: readonly ReadWork[],
  parts: readonly BilledPart[],
  book: FairBook,
): { work: WorkWithParts[]; reasons: string[] } {
  const work = joined(read).map((each): WorkWithParts => ({ ...each, namedParts: [] }));
  const reasons: string[] = [];
  for (const part of parts) {
    const named = book.parts.get(part.name);
    const reading: PartReading = named ? { is: 'unclear' } : readPart(part.name);
    if (named === undefined && reading.is === 'small_material') continue;
    if (named === undefined && reading.is === 'unclear') {
      reasons.push(`Not understood among the parts: “${part.name}”.`);
      continue;
    }
    const at = work.findIndex((each) => takes(each, named, reading));
    const taker = work[at];
    if (taker === undefined) {
      reasons.push(`The bill names “${part.name}” among its parts, and no work with it.`);
      continue;
    }
    const added = withPart(taker, part, named, reading);
    if (added === undefined) {
      reasons.push(`The bill names ${part.quantity} of “${part.name}”, and work with one.`);
    } else work[at] = added;
  }
  return { work, reasons };
}

/** Work that other work covers is not priced beside it; its refrigerant went in with that. */
function joined(read: readonly ReadWork[]): ReadWork[] {
  return read.flatMap((work) => {
    const others = read.filter((other) => other !== work);
    if (others.some((other) => covers(other, work))) return [];
    let figures = work.figures;
    for (const other of others) if (covers(work, other)) figures = { ...other.figures, ...figures };
    return [{ ...work, figures }];
  });
}

function covers({ taskCodes }: ReadWork, other: ReadWork): boolean {
  const [task, ...further] = taskCodes;
  if (task === undefined || further.length > 0) return false;
  return other.taskCodes.every((each) => coveredBy(task).includes(each));
}

function takes(work: ReadWork, named: FairPart | undefined, reading: PartReading): boolean {
  const own = work.taskCodes.flatMap(categoriesOf);
  if (named !== undefined) return own.includes(named.fit.category);
  return reading.is === 'thing' && categoriesIn(reading).some((each) => own.includes(each));
}

/** What kinds of part a thing is; what its tasks take besides, such as a charge, it is not. */
function categoriesIn({ thing }: Extract<PartReading, { is: 'thing' }>): PartCategory[] {
  if (thing.part !== undefined) return [thing.part];
  const { replace = [], install = [], add = [] } = thing.done;
  return [...replace, ...install, ...add]
    .flatMap(categoriesOf)
    .filter((category) => category !== 'refrigerant' && category !== 'filter_drier');
}

function withPart(
  work: WorkWithParts,
  { quantity }: BilledPart,
  named: FairPart | undefined,
  reading: PartReading,
): WorkWithParts | undefined {
  // What a bill lists of refrigerant it lists by the pound.
  const isGood = named?.measured !== undefined || isRefrigerant(reading);
  const figures: FiguresSaid = {
    ...(reading.is === 'thing' && reading.figures),
    ...(isGood && { pounds: String(quantity) }),
    ...work.figures,
  };
  const fitting = work.taskCodes.filter((task) => hasSuchFigures(task, figures));
  const taskCodes = asNamed(fitting, named, reading);
  const namedParts = named === undefined ? work.namedParts : [...work.namedParts, named];
  const added = { ...work, taskCodes, figures, namedParts };
  if (isGood || quantity === work.quantity) return added;
  const inSeveral = reading.is === 'thing' && reading.thing.inSeveral === true;
  return inSeveral ? { ...added, quantity } : undefined;
}

/** The name of a part may say which of several tasks it was: `replaced fuse` with a `control fuse`. */
function asNamed(
  taskCodes: readonly TaskCode[],
  named: FairPart | undefined,
  reading: PartReading,
): readonly TaskCode[] {
  const own = taskCodes.filter((task) => {
    if (named !== undefined) return categoriesOf(task).includes(named.fit.category);
    return reading.is === 'thing' && Object.values(reading.thing.done).flat().includes(task);
  });
  return own.length > 0 ? own : taskCodes;
}

function isRefrigerant(reading: PartReading): boolean {
  return reading.is === 'thing' && reading.thing.part === 'refrigerant';
}
