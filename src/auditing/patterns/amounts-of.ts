import { robustScores, STANDS_OUT_ABOVE } from '../statistics/robust-scores.ts';
import type { Amount, Tally } from './tally.ts';

/** What somebody's jobs were billed beside what the others' of the same kinds were. */
export interface AmountRow {
  readonly subject: string;
  /** Jobs of kinds that others did too. */
  readonly jobs: number;
  readonly billedCents: number;
  /** What the others would have billed on the same mix of jobs, to the nearest cent. */
  readonly expectedCents: number;
  /** How many times as much; null without enough data. */
  readonly times: number | null;
  /** How far that lies from the middle of everybody, in units that a few strange ones cannot stretch. */
  readonly score: number | null;
  readonly standing: 'not_enough_data' | 'like_others' | 'stands_out';
}

/** With fewer jobs one dear machine decides; common practice, no source. */
const JOBS_MIN = 30;
/** Among fewer people there is no middle to stand away from; common practice, no source. */
const SUBJECTS_MIN = 5;

/**
 * Whose jobs come dearer than the same mix of jobs does by others. Amounts have no exact chance: one
 * new machine is worth fifty capacitors. So this names only who stands far from the middle of all, and
 * what a share of such names is by chance is not promised.
 */
export function amountsOf({ amounts }: Tally): AmountRow[] {
  const whole = sumsOf([...amounts.values()]);
  const rows = [...amounts].map(([subject, kinds]) => besideOthers(subject, kinds, whole));
  const enough = rows.filter(({ jobs, expectedCents }) => jobs >= JOBS_MIN && expectedCents > 0);
  if (enough.length < SUBJECTS_MIN) return rows.map(withoutScore);
  const scores = robustScores(enough.map(timesOf));
  const scoreOf = new Map(enough.map((row, at) => [row, scores[at]]));
  return rows.map((row): AmountRow => {
    const score = scoreOf.get(row);
    if (score === undefined) return withoutScore(row);
    const standing = score > STANDS_OUT_ABOVE ? 'stands_out' : 'like_others';
    return { ...rounded(row), times: timesOf(row), score, standing };
  });
}

type Beside = Pick<AmountRow, 'subject' | 'jobs' | 'billedCents' | 'expectedCents'>;
type Kinds = ReadonlyMap<string, Amount>;

function sumsOf(all: readonly Kinds[]): Kinds {
  const sums = new Map<string, Amount>();
  for (const [kind, { jobs, cents }] of all.flatMap((kinds) => [...kinds])) {
    const sum = sums.get(kind) ?? { jobs: 0, cents: 0 };
    sums.set(kind, { jobs: sum.jobs + jobs, cents: sum.cents + cents });
  }
  return sums;
}

function besideOthers(subject: string, kinds: Kinds, whole: Kinds): Beside {
  const beside = { subject, jobs: 0, billedCents: 0, expectedCents: 0 };
  for (const [kind, own] of kinds) {
    const all = whole.get(kind) ?? own;
    const othersJobs = all.jobs - own.jobs;
    if (othersJobs === 0) continue;
    beside.jobs += own.jobs;
    beside.billedCents += own.cents;
    beside.expectedCents += (own.jobs * (all.cents - own.cents)) / othersJobs;
  }
  return beside;
}

function timesOf({ billedCents, expectedCents }: Beside): number {
  return billedCents / expectedCents;
}

function withoutScore(row: Beside): AmountRow {
  return { ...rounded(row), times: null, score: null, standing: 'not_enough_data' };
}

function rounded(row: Beside): Beside {
  return { ...row, expectedCents: Math.round(row.expectedCents) };
}
