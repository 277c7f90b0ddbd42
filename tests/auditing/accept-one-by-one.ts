import {
  type AskedBack,
  correctedByFlag,
  currentAuditRuleset,
  type JobFacts,
  judgeJob,
} from '../../src/auditing/index.ts';
import { putRight } from './put-right.ts';

/** What came of accepting flags one after another. */
export interface OneByOne {
  /** Rule and amount of each, in the order in which they were accepted. */
  readonly accepted: readonly (readonly [string, number])[];
  readonly givenCents: number;
  /** What was given back so far and what the judgement still showed: at first, and after each. */
  readonly sumsCents: readonly number[];
  readonly job: JobFacts;
}

/** More than any job has flags, so that what never ends is seen. */
const MOST = 60;

/**
 * The owner accepts one flag after another, each judged anew, until none gives anything back.
 * @param picks which of the flags comes next, one for each step
 * @param dismissed what was dismissed before
 */
export function acceptOneByOne(
  job: JobFacts,
  picks: readonly number[],
  dismissed: readonly AskedBack[] = [],
): OneByOne {
  let now = job;
  const accepted: [string, number][] = [];
  const sumsCents: number[] = [];
  const givenCents = () => accepted.reduce((sum, [, overCents]) => sum + overCents, 0);
  for (let step = 0; step < MOST; step += 1) {
    const { flags, openCents } = judgeJob(now, currentAuditRuleset, dismissed);
    sumsCents.push(givenCents() + openCents);
    const open = flags.filter((flag) => flag.overCents > 0 && flag.isDismissed !== true);
    const flag = open[(picks[step % Math.max(1, picks.length)] ?? 0) % Math.max(1, open.length)];
    if (flag === undefined) break;
    accepted.push([flag.ruleCode, flag.overCents]);
    now = putRight(now, correctedByFlag(now, flag.ruleCode, currentAuditRuleset, dismissed));
  }
  return { accepted, givenCents: givenCents(), sumsCents, job: now };
}
