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

export interface PatternRow extends Omit<Comparison, 'standing'> {
  /** `fewer_than_others`: of what is good, clearly less than the others have. */
  readonly standing: Comparison['standing'] | 'fewer_than_others';
  /** The chance of so few or fewer, as everybody was looked at; null where fewer is no matter. */
  readonly adjustedChanceOfFewer: number | null;
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
 * `falseShareMax` does so by chance alone, on average. One side is praise: more of the good. The other
 * asks for a look: more of what should not be, and less of the good.
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
  const looks = adjustedOf(compared, asLook, bounds);
  const praises = adjustedOf(compared.filter(isGood), (pattern) => pattern, bounds);
  const patterns: Pattern[] = [];
  for (const pattern of compared) {
    const look = looks.get(pattern) ?? pattern.rows;
    const praise = praises.get(pattern);
    const rows = praise?.map((row, at) => goodRow(row, look[at])) ?? look.map(badRow);
    const { measure, by } = pattern;
    patterns.push({ measure, by, rows: rows.map((row) => patternRow(row, measure)) });
    yield;
  }
  return patterns;
}

type Compared = Pick<Pattern, 'measure' | 'by'> & { readonly rows: readonly Comparison[] };
type Standing = Omit<PatternRow, 'share' | 'funnel' | 'sentence'>;

function isGood({ measure }: Pick<Compared, 'measure'>): boolean {
  return measureWords(measure).side === 'praise';
}

/** What asks for a look: of the good it is so few or fewer, of all else so many or more. */
function asLook(pattern: Compared): Compared {
  if (!isGood(pattern)) return pattern;
  return { ...pattern, rows: pattern.rows.map((row) => ({ ...row, chance: row.chanceOfFewer })) };
}

function adjustedOf(
  compared: readonly Compared[],
  asked: (pattern: Compared) => Compared,
  { falseShareMax = FALSE_SHARE_MAX }: Partial<ComparisonBounds>,
): ReadonlyMap<Compared, readonly Comparison[]> {
  const adjusted = adjustedTogether(
    compared.map((pattern) => asked(pattern).rows),
    falseShareMax,
  );
  return new Map(compared.map((pattern, at) => [pattern, adjusted[at] ?? []]));
}

function badRow(row: Comparison): Standing {
  return { ...row, adjustedChanceOfFewer: null };
}

/** @param look the same row, as it was looked at for being fewer */
function goodRow(row: Comparison, look: Comparison | undefined): Standing {
  const isFewer = row.standing === 'like_others' && look?.standing === 'stands_out';
  return {
    ...row,
    standing: isFewer ? 'fewer_than_others' : row.standing,
    adjustedChanceOfFewer: look?.adjustedChance ?? null,
  };
}

function countedOf([subject, kinds]: [string, ReadonlyMap<string, Count>]): Counted {
  return { subject, kinds: Object.fromEntries(kinds) };
}

function patternRow(row: Standing, measure: MeasureCode): PatternRow {
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

function sentenceOf(row: Standing, code: MeasureCode) {
  const { ownCount, ownTrials, count, trials, expectedCount, standing } = row;
  const { happened, among, side } = measureWords(code);
  if (standing === 'not_enough_data') {
    return `${happened}: ${ownCount} of ${ownTrials} ${among}. ${tooFew(row)}`;
  }
  const found = `${happened}: ${count} of ${trials} ${among}${unlessAll(row)}.`;
  const others = `The others come to ${expectedCount.toFixed(1)} on the same mix of jobs.`;
  if (standing === 'like_others') return `${found} ${others}`;
  if (standing === 'fewer_than_others') return `${found} ${others} ${WHAT_IS_IN_THE_WAY}`;
  const asked =
    side === 'look'
      ? 'Please look at the files of these jobs; there may be a good reason.'
      : 'That is worth telling the others how it is done.';
  return `${found} ${others} ${asked}`;
}

/** Less of the good has a reason more often than a culprit. */
const WHAT_IS_IN_THE_WAY =
  'Please ask what stands in the way: time, an instrument, a part, or jobs of another kind.';

/** Jobs that nobody else did are in no comparison, and the figures say so. */
function unlessAll({ trials, ownTrials }: Pick<Comparison, 'trials' | 'ownTrials'>): string {
  return trials === ownTrials ? '' : ' that others did too';
}
