import { minutesText } from '../../pricing/index.ts';
import { adjustedForMany } from '../statistics/adjusted-for-many.ts';
import { binomialChances } from '../statistics/binomial-chances.ts';
import { FALSE_SHARE_MAX } from '../statistics/compare-with-others.ts';
import { median } from '../statistics/median.ts';
import { upperTail } from '../statistics/upper-tail.ts';
import { type MedianInterval, medianInterval } from './median-interval.ts';

/** A task of the price book in force. */
export interface BookTask {
  readonly name: string;
  readonly minutes: number;
  readonly accessMinutes: number;
}

/** A job of the company's own where one task was the only one. */
export interface OwnJob {
  readonly taskCode: string;
  /** Between arriving and leaving. */
  readonly onSiteMinutes: number;
  /** Of those, looking for the cause, which the visit fee pays; the policy's where nobody counted. */
  readonly causeSearchMinutes: number;
}

export interface TaskBesideJobs {
  readonly taskCode: string;
  readonly jobs: number;
  /** With the way in. */
  readonly bookMinutes: number;
  /** In the middle of the jobs; null without one. */
  readonly medianMinutes: number | null;
  /** Where the middle truly lies, in at least 95 of 100 cases; null without enough data. */
  readonly interval: MedianInterval | null;
  /** Of so many jobs below the book, were its minutes right as nearly as is let pass. */
  readonly chance: number | null;
  /** The same, as every task was looked at. */
  readonly adjustedChance: number | null;
  readonly standing: 'not_enough_data' | 'like_jobs' | 'above_jobs';
  readonly sentence: string;
}

/** Common practice, no source. */
const JOBS_MIN = 10;
/** How much more than the jobs take a book may have, for the day that goes wrong: common practice, no source. */
const TOLERANCE_PERCENT = 20;

/**
 * The book's minutes for each task beside the company's own jobs, so that a padded book does not
 * pass. Time on site holds the talk and the paperwork too, so the jobs look longer than the work is:
 * a book above them is above the work by more.
 *
 * A task is flagged where more than half of its jobs stay so far below the book that their middle
 * cannot, by chance, belong to a book that is right: the exact sign test. Were the true middle at the
 * book's minutes less the tolerance, each job would lie below that with a chance of a half at most.
 */
export function minutesBesideJobs(
  jobs: Iterable<OwnJob>,
  book: ReadonlyMap<string, BookTask>,
): TaskBesideJobs[] {
  const minutesOf = ownMinutes(jobs);
  const tasks = [...book].map(([taskCode, task]) =>
    besideJobs(taskCode, task, minutesOf.get(taskCode) ?? []),
  );
  const looked = tasks.flatMap((task) =>
    task.chance === null ? [] : [{ task, chance: task.chance }],
  );
  const adjusted = adjustedForMany(looked.map(({ chance }) => chance));
  const adjustedOf = new Map(looked.map(({ task }, at) => [task, adjusted[at]]));
  return tasks.map((task): TaskBesideJobs => {
    const adjustedChance = adjustedOf.get(task) ?? null;
    const standing = standingOf(adjustedChance);
    return { ...task, adjustedChance, standing, sentence: sentenceOf(task, book, standing) };
  });
}

type Beside = Omit<TaskBesideJobs, 'adjustedChance' | 'standing' | 'sentence'>;

/** A number for each job: a million and a half of them take a few megabytes. */
function ownMinutes(jobs: Iterable<OwnJob>): ReadonlyMap<string, readonly number[]> {
  const minutesOf = new Map<string, number[]>();
  for (const { taskCode, onSiteMinutes, causeSearchMinutes } of jobs) {
    const minutes = Math.max(0, onSiteMinutes - causeSearchMinutes);
    const known = minutesOf.get(taskCode);
    if (known === undefined) minutesOf.set(taskCode, [minutes]);
    else known.push(minutes);
  }
  return minutesOf;
}

function besideJobs(taskCode: string, task: BookTask, minutes: readonly number[]): Beside {
  const bookMinutes = task.minutes + task.accessMinutes;
  const isBelow = (each: number) => each * (100 + TOLERANCE_PERCENT) < bookMinutes * 100;
  const below = minutes.filter(isBelow).length;
  const isEnough = minutes.length >= JOBS_MIN;
  return {
    taskCode,
    jobs: minutes.length,
    bookMinutes,
    medianMinutes: minutes.length === 0 ? null : median(minutes),
    interval: isEnough ? medianInterval(minutes) : null,
    chance: isEnough ? upperTail(binomialChances(minutes.length, 0.5), below) : null,
  };
}

function standingOf(adjustedChance: number | null): TaskBesideJobs['standing'] {
  if (adjustedChance === null) return 'not_enough_data';
  return adjustedChance <= FALSE_SHARE_MAX ? 'above_jobs' : 'like_jobs';
}

function sentenceOf(
  { taskCode, jobs, bookMinutes, medianMinutes }: Beside,
  book: ReadonlyMap<string, BookTask>,
  standing: TaskBesideJobs['standing'],
): string {
  const name = book.get(taskCode)?.name ?? taskCode;
  const has = `${name}: the book has ${minutesText(bookMinutes)} with the way in.`;
  if (standing === 'not_enough_data' || medianMinutes === null) {
    const few =
      jobs === 1 ? '1 job that was nothing else is' : `${jobs} jobs that were nothing else are`;
    return `${has} ${few} too few to say anything.`;
  }
  const took = `Half of ${jobs} jobs that were nothing else took ${minutesText(Math.ceil(medianMinutes))} or less.`;
  if (standing === 'like_jobs') return `${has} ${took}`;
  return `${has} ${took} Please look at whether the book is right.`;
}
