import type { JobCount } from './job-count.ts';
import { kindOfJob } from './kind-of-job.ts';
import { type Dimension, type MeasureCode, measures, measureWords } from './measures.ts';
import { addAmount, addCount, type Tally } from './tally.ts';

/** Counts jobs one after the other; nothing of a job is kept but that it was counted. */
export function tallyJobs(jobs: Iterable<JobCount>, by: Dimension): Tally {
  const tally = startTally(by);
  for (const job of jobs) addToTally(tally, job);
  return tally;
}

export function startTally(by: Dimension): Tally {
  const codes = Object.keys(measures) as MeasureCode[]; // A literal has no other keys.
  const own = codes.filter((code) => measureWords(code).by.includes(by));
  return { by, counts: new Map(own.map((code) => [code, new Map()])), amounts: new Map() };
}

/** Counts one more job into a tally, which is changed by it. */
export function addToTally({ by, counts, amounts }: Tally, job: JobCount): void {
  const subject = subjectOf(job, by);
  if (subject === null) return;
  const kind = kindOfJob(job, by);
  for (const [code, table] of counts) {
    const happened = job.answers[code];
    if (happened === undefined) continue;
    addCount(table, subject, kind, { trials: 1, count: happened ? 1 : 0 });
  }
  if (job.billedCents > 0) {
    addAmount(amounts, subject, kind, { jobs: 1, cents: job.billedCents });
  }
}

/** Whose a job is; nobody's where it cannot be told, or where two tasks share it. */
function subjectOf(job: JobCount, by: Dimension): string | null {
  switch (by) {
    case 'technician':
      return job.technicianId;
    case 'call_taker':
      return job.callTakerId;
    case 'task':
      return onlyOf(job.taskCodes);
    case 'part_category':
      return onlyOf(job.partCategories);
    case 'month':
      return job.month;
  }
}

function onlyOf(some: readonly string[]): string | null {
  const [first, ...others] = new Set(some);
  return first === undefined || others.length > 0 ? null : first;
}
