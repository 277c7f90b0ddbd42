import { judgeJob } from '../../src/auditing/index.ts';
import { priceQuote } from '../../src/pricing/index.ts';
import {
  breakerReset,
  capacitor,
  contactor,
  documentOf,
  drainCleared,
  floatReset,
  jobOf,
} from '../auditing/job-of.ts';

/** How long the audit takes over a job that nothing is wrong with, in this process, on one core. */
export interface AuditBench {
  readonly jobs: number;
  /** Holding every rule against a job whose kind was priced before. Median of the rounds. */
  readonly judgeNs: number;
  /** Only computing the prices of the same documents once more: what a job of a new kind adds. */
  readonly floorNs: number;
  readonly jobsPerSecond: number;
}

/** Everyday jobs: one task, two tasks, a reset, a reset behind a cleaned drain. */
const jobs = [
  jobOf(),
  jobOf({ work: [capacitor(), contactor()] }),
  jobOf({ work: [breakerReset()] }),
  jobOf({ work: [drainCleared(), floatReset()] }),
];
const inputs = jobs.flatMap((job) => documentOf(job).price?.inputs ?? []);

export function benchAudit(): AuditBench {
  const flagged = jobs.filter((job) => judgeJob(job).flags.length > 0);
  if (flagged.length > 0) throw new Error('the measured jobs are to be healthy');
  const judgeNs = medianNs((at) => judgeJob(jobs[at % jobs.length] ?? jobOf()).flags.length);
  const floorNs = medianNs((at) => {
    const priced = inputs[at % inputs.length];
    return priced !== undefined && priceQuote(priced).outcome === 'priced' ? 1 : 0;
  });
  return { jobs: jobs.length, judgeNs, floorNs, jobsPerSecond: Math.round(1e9 / judgeNs) };
}

const rounds = 15;
const callsPerRound = 4_000;

/** Keeps the optimizer from dropping work whose result nobody reads. */
let sink = 0;

function medianNs(call: (at: number) => number): number {
  for (let at = 0; at < callsPerRound; at += 1) sink += call(at);
  const perCall = Array.from({ length: rounds }, () => {
    const start = process.hrtime.bigint();
    for (let at = 0; at < callsPerRound; at += 1) sink += call(at);
    return Number(process.hrtime.bigint() - start) / callsPerRound;
  }).sort((a, b) => a - b);
  if (!Number.isFinite(sink)) throw new Error('the measured calls gave no numbers');
  return Math.round(perCall[Math.floor(rounds / 2)] ?? Number.NaN);
}
