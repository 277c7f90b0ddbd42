import { adjustedForMany } from './adjusted-for-many.ts';
import { countedChances, type Trials } from './counted-chances.ts';
import { upperTail } from './upper-tail.ts';

/** How often something was done by one of several, by the kind of job it was done on. */
export interface Counted {
  readonly subject: string;
  readonly kinds: Readonly<Record<string, { readonly trials: number; readonly count: number }>>;
}

/** One of several beside all the others. */
export interface Comparison {
  readonly subject: string;
  /** Jobs of kinds that others did too; nothing else can be compared. */
  readonly trials: number;
  readonly count: number;
  /** What the others would have come to with the same mix of jobs. */
  readonly expectedCount: number;
  /** Of so many or more, were it done as often as by the others; null without enough data. */
  readonly chance: number | null;
  /** The same, as everybody was looked at. */
  readonly adjustedChance: number | null;
  readonly standing: 'not_enough_data' | 'like_others' | 'stands_out';
}

export interface ComparisonBounds {
  /** Fewer jobs say nothing of anybody. */
  readonly trialsMin: number;
  /** Of those who stand out, the share that may on average do so by chance alone. */
  readonly falseShareMax: number;
}

/** The minimum is common practice, no source. */
const usualBounds: ComparisonBounds = { trialsMin: 10, falseShareMax: 0.05 };

/**
 * Sets each of several beside all the others: was something done more often than they would have
 * done it on the same mix of jobs? What the others do is counted without the one who is looked at,
 * so that nobody raises the measure held against them, and kind by kind, so that nobody is blamed
 * for the jobs they are sent to. The chance is exact, and adjusted for everybody being looked at.
 * @throws RangeError where something was done more often than there were jobs
 */
export function compareWithOthers(
  all: readonly Counted[],
  bounds: Partial<ComparisonBounds> = {},
): Comparison[] {
  const { trialsMin, falseShareMax } = { ...usualBounds, ...bounds };
  const whole = sumsOf(all);
  const beside = all.map((one) => besideOthers(one, whole, trialsMin));
  const chances = beside.flatMap(({ chance }) => (chance === null ? [] : [chance]));
  const adjusted = adjustedForMany(chances)[Symbol.iterator]();
  return beside.map((one): Comparison => {
    if (one.chance === null) {
      return { ...one, adjustedChance: null, standing: 'not_enough_data' };
    }
    const adjustedChance = adjusted.next().value ?? 1;
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
  const compared: Trials[] = [];
  let count = 0;
  for (const [kind, own] of Object.entries(kinds)) {
    const all = whole.get(kind) ?? own;
    const others = { trials: all.trials - own.trials, count: all.count - own.count };
    if (others.trials === 0) continue;
    compared.push({ trials: own.trials, chance: chanceAmong(others) });
    count += own.count;
  }
  const trials = compared.reduce((sum, each) => sum + each.trials, 0);
  const expectedCount = compared.reduce((sum, each) => sum + each.trials * each.chance, 0);
  const chance = trials < trialsMin ? null : upperTail(countedChances(compared), count);
  return { subject, trials, count, expectedCount, chance };
}

/**
 * How often the others do it. Where none of them ever did, once would be impossible by that count,
 * which so few cannot tell: half a time in one job more (H. Jeffreys' rule) stands in.
 */
function chanceAmong({ trials, count }: { trials: number; count: number }): number {
  return count === 0 ? 0.5 / (trials + 1) : count / trials;
}
