import { addedChances } from './added-chances.ts';
import { adjustedForMany } from './adjusted-for-many.ts';
import { drawnChances } from './drawn-chances.ts';
import { lowerTail } from './lower-tail.ts';
import { upperTail } from './upper-tail.ts';

/** How often something was done by one of several, by the kind of job it was done on. */
export interface Counted {
  /** Nobody else's. */
  readonly subject: string;
  readonly kinds: Readonly<Record<string, { readonly trials: number; readonly count: number }>>;
}

/** One of several beside all the others. */
export interface Comparison {
  readonly subject: string;
  /** Every job of theirs, and on how many of them it was done. */
  readonly ownTrials: number;
  readonly ownCount: number;
  /** Jobs of kinds that others did too; nothing else can be compared. */
  readonly trials: number;
  readonly count: number;
  /** What the others would have come to with the same mix of jobs. */
  readonly expectedCount: number;
  /** Of so many or more, were it all the same who came; null without enough data. */
  readonly chance: number | null;
  /** Of so many or fewer; it is in no standing here, because fewer is seldom worth a word. */
  readonly chanceOfFewer: number | null;
  /** The chance of so many or more, as everybody was looked at. */
  readonly adjustedChance: number | null;
  readonly standing: 'not_enough_data' | 'like_others' | 'stands_out';
}

export interface ComparisonBounds {
  /** Fewer jobs say nothing of anybody. */
  readonly trialsMin: number;
  /** Of those who stand out, the share that may on average do so by chance alone. */
  readonly falseShareMax: number;
}

/** Of those who stand out, one in twenty may do so by chance alone: common practice, no source. */
export const FALSE_SHARE_MAX = 0.05;
/** Common practice, no source. */
const TRIALS_MIN = 10;
const usualBounds: ComparisonBounds = { trialsMin: TRIALS_MIN, falseShareMax: FALSE_SHARE_MAX };

/**
 * Sets each of several beside all the others: was something done more often than they do it on the
 * same mix of jobs? Kind by kind, so that nobody is blamed for the jobs they are sent to: were it all
 * the same who came, the jobs it was done on would fall to each as if drawn blindly from the jobs of
 * that kind. That chance is exact however few the others are: how often they did it is counted too,
 * and to take it for what they always do would flag more by chance alone than is promised here.
 * Every chance is adjusted for everybody being looked at.
 * @throws RangeError where something was done more often than there were jobs
 */
export function compareWithOthers(
  all: readonly Counted[],
  bounds: Partial<ComparisonBounds> = {},
): Comparison[] {
  const { trialsMin, falseShareMax } = { ...usualBounds, ...bounds };
  const whole = sumsOf(all);
  const beside = all.map((one) => besideOthers(one, whole, trialsMin));
  const looked = beside.flatMap(({ subject, chance }) =>
    chance === null ? [] : [{ subject, chance }],
  );
  const adjusted = adjustedForMany(looked.map(({ chance }) => chance));
  const adjustedOf = new Map(looked.map(({ subject }, at) => [subject, adjusted[at]]));
  return beside.map((one): Comparison => {
    const adjustedChance = adjustedOf.get(one.subject) ?? null;
    if (adjustedChance === null) return { ...one, adjustedChance, standing: 'not_enough_data' };
    const standing = adjustedChance <= falseShareMax ? 'stands_out' : 'like_others';
    return { ...one, adjustedChance, standing };
  });
}

type Sums = ReadonlyMap<string, { trials: number; count: number }>;

function sumsOf(all: readonly Counted[]): Sums {
  const sums = new Map<string, { trials: number; count: number }>();
  for (const [kind, { trials, count }] of all.flatMap(({ kinds }) => Object.entries(kinds))) {
    if (!(count >= 0 && count <= trials)) throw new RangeError(`Done ${count} times in ${trials}.`);
    const sum = sums.get(kind) ?? { trials: 0, count: 0 };
    sums.set(kind, { trials: sum.trials + trials, count: sum.count + count });
  }
  return sums;
}

function besideOthers({ subject, kinds }: Counted, whole: Sums, trialsMin: number) {
  const counts: Float64Array[] = [];
  const beside = { subject, ownTrials: 0, ownCount: 0, trials: 0, count: 0, expectedCount: 0 };
  for (const [kind, own] of Object.entries(kinds)) {
    beside.ownTrials += own.trials;
    beside.ownCount += own.count;
    const all = whole.get(kind) ?? own;
    const othersTrials = all.trials - own.trials;
    if (othersTrials === 0) continue;
    counts.push(drawnChances({ all: all.trials, marked: all.count }, own.trials));
    beside.trials += own.trials;
    beside.count += own.count;
    beside.expectedCount += (own.trials * (all.count - own.count)) / othersTrials;
  }
  if (beside.trials < trialsMin) return { ...beside, chance: null, chanceOfFewer: null };
  const added = addedChances(counts);
  const { count } = beside;
  return { ...beside, chance: upperTail(added, count), chanceOfFewer: lowerTail(added, count) };
}
