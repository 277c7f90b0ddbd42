import { adjustedTogether } from '../statistics/adjusted-together.ts';
import {
  type Comparison,
  type ComparisonBounds,
  type Counted,
  compareWithOthers,
  FALSE_SHARE_MAX,
} from '../statistics/compare-with-others.ts';
import { funnelLimit } from '../statistics/funnel-limit.ts';
import { type ShareInterval, shareInterval } from '../statistics/share-interval.ts';
import { tooFew } from '../statistics/too-few.ts';
import { type Dimension, type MeasureCode, measureWords } from './measures.ts';
import type { Count, Tally } from './tally.ts';

/** One measure over everybody, as it stands on the owner's page. */
export interface Pattern {
  readonly measure: MeasureCode;
  readonly by: Dimension;
  readonly rows: readonly PatternRow[];
}

export interface PatternRow extends Comparison {
  /** Where the share truly lies, in 95 of 100 cases; null without a job. */
  readonly share: ShareInterval | null;
  /** Between which shares somebody lies who does as the others do, with so many jobs. */
  readonly funnel: FunnelLimits | null;
  /** What it comes to, for the owner; it accuses nobody. */
  readonly sentence: string;
}

/** Nineteen of twenty lie within the inner limits, 998 of 1,000 within the outer ones. */
export interface FunnelLimits {
  readonly inner: ShareInterval;
  readonly outer: ShareInterval;
}

/**
 * Every measure of some tallies, each subject beside all the others on the same mix of jobs. All
 * tallies that stand on one page belong into one call: each chance is adjusted for everything of its
 * side that was looked at on the page, so that of all that stands out on it no larger share than
 * `falseShareMax` does so by chance alone, on average.
 */
export function patternsOf(
  tallies: readonly Tally[],
  bounds: Partial<ComparisonBounds> = {},
): Pattern[] {
  const steps = patternsInSteps(tallies, bounds);
  let step = steps.next();
  while (step.done !== true) step = steps.next();
  return step.value;
}

/**
 * The same in steps, of which each is one measure: exact chances of a hundred people take a second, and
 * whoever answers others meanwhile takes a turn between two steps.
 */
export function* patternsInSteps(
  tallies: readonly Tally[],
  bounds: Partial<ComparisonBounds> = {},
): Generator<void, Pattern[]> {
  const compared: Compared[] = [];
  for (const { by, counts } of tallies) {
    for (const [measure, table] of counts) {
      compared.push({ measure, by, rows: compareWithOthers([...table].map(countedOf), bounds) });
      yield;
    }
  }
  const sides = {
    look: adjustedOf(compared, 'look', bounds),
    praise: adjustedOf(compared, 'praise', bounds),
  };
  const patterns: Pattern[] = [];
  for (const pattern of compared) {
    const { measure, by, rows } = pattern;
    const adjusted = sides[measureWords(measure).side].get(pattern) ?? rows;
    patterns.push({ measure, by, rows: adjusted.map((row) => patternRow(row, measure)) });
    yield;
  }
  return patterns;
}

type Compared = Pick<Pattern, 'measure' | 'by'> & { readonly rows: readonly Comparison[] };

function adjustedOf(
  compared: readonly Compared[],
  side: 'look' | 'praise',
  { falseShareMax = FALSE_SHARE_MAX }: Partial<ComparisonBounds>,
): ReadonlyMap<Compared, readonly Comparison[]> {
  const own = compared.filter(({ measure }) => measureWords(measure).side === side);
  const adjusted = adjustedTogether(
    own.map(({ rows }) => rows),
    falseShareMax,
  );
  return new Map(own.map((pattern, at) => [pattern, adjusted[at] ?? []]));
}

function countedOf([subject, kinds]: [string, ReadonlyMap<string, Count>]): Counted {
  return { subject, kinds: Object.fromEntries(kinds) };
}

function patternRow(row: Comparison, measure: MeasureCode): PatternRow {
  const { count, trials, expectedCount } = row;
  return {
    ...row,
    share: trials === 0 ? null : shareInterval(count, trials),
    funnel: trials === 0 ? null : funnelOf(Math.min(1, expectedCount / trials), trials),
    sentence: sentenceOf(row, measure),
  };
}

function funnelOf(share: number, trials: number): FunnelLimits {
  const limit = (below: number) => funnelLimit(share, trials, below);
  return {
    inner: { low: limit(0.025), high: limit(0.975) },
    outer: { low: limit(0.001), high: limit(0.999) },
  };
}

function sentenceOf(row: Comparison, code: MeasureCode) {
  const { ownCount, ownTrials, count, trials, expectedCount, standing } = row;
  const { happened, among, side } = measureWords(code);
  if (standing === 'not_enough_data') {
    return `${happened}: ${ownCount} of ${ownTrials} ${among}. ${tooFew(row)}`;
  }
  const found = `${happened}: ${count} of ${trials} ${among}${unlessAll(row)}.`;
  const others = `The others come to ${expectedCount.toFixed(1)} on the same mix of jobs.`;
  if (standing === 'like_others') return `${found} ${others}`;
  const asked =
    side === 'look'
      ? 'Please look at the files of these jobs; there may be a good reason.'
      : 'That is worth telling the others how it is done.';
  return `${found} ${others} ${asked}`;
}

/** Jobs that nobody else did are in no comparison, and the figures say so. */
function unlessAll({ trials, ownTrials }: Comparison): string {
  return trials === ownTrials ? '' : ' that others did too';
}
