import type { AuditReport } from './contract.ts';
import type { NameOf } from './names-of.ts';
import { endsOfStep, type PricedJob, type PriceSpread, type WorkPrices } from './price-spread.ts';

/** What was charged for each kind of work, beside what it may come to. */
export function pricesOfPeriod({ works }: PriceSpread, nameOf: NameOf): AuditReport['prices'] {
  const all = [...works].sort(([, one], [, other]) => byWhatIsAbove(one, other));
  const above = all.flatMap(([, work]) => work.above).toSorted(furthestFirst);
  const nameOfWork = (taskCode: string | null) => workName(taskCode, nameOf);
  return {
    jobs: sumOf(all, ({ jobs }) => jobs),
    above: above.length,
    putRight: sumOf(all, ({ putRight }) => putRight),
    notJudged: sumOf(all, ({ notJudged }) => notJudged),
    aboveCents: above.reduce((sum, job) => sum + aboveCents(job), 0),
    works: all.map(([taskCode, work]) => ({
      ...{ work: nameOfWork(taskCode), jobs: work.jobs },
      ...{ putRight: work.putRight, notJudged: work.notJudged },
      ...{ lowCents: work.lowCents, highCents: work.highCents },
      above: work.above.length,
      aboveCents: work.above.reduce((sum, job) => sum + aboveCents(job), 0),
      fair: [...work.fair]
        .sort(([one], [other]) => one - other)
        .map(([step, jobs]) => ({ ...endsOfStep(step), jobs })),
    })),
    furthest: above.slice(0, FURTHEST_MAX).map((job) => ({
      ...{ ticketId: job.ticketId, ticketNumber: job.ticketNumber, technicianId: job.technicianId },
      technicianName: job.technicianId === null ? null : nameOf('technician', job.technicianId),
      work: nameOfWork(job.taskCode),
      ...{ chargedCents: job.chargedCents, atMostCents: job.atMostCents },
    })),
  };
}

/** What a kind of work is called in a row of its own. */
export function workName(taskCode: string | null, nameOf: NameOf): string {
  if (taskCode === null) return 'Several tasks';
  return taskCode === '' ? 'The visit alone' : nameOf('task', taskCode);
}

/** How much a job is above the most that it comes to. */
export function aboveCents({ chargedCents, atMostCents }: PricedJob): number {
  return chargedCents - atMostCents;
}

const FURTHEST_MAX = 20;

/** What comes to most first; of the rest what is done most. */
export function byWhatIsAbove(one: WorkPrices, other: WorkPrices): number {
  const above = ({ above: jobs }: WorkPrices) =>
    jobs.reduce((sum, job) => sum + aboveCents(job), 0);
  return above(other) - above(one) || other.jobs - one.jobs;
}

function furthestFirst(one: PricedJob, other: PricedJob): number {
  return aboveCents(other) - aboveCents(one) || one.ticketNumber - other.ticketNumber;
}

function sumOf(all: readonly [unknown, WorkPrices][], of: (work: WorkPrices) => number): number {
  return all.reduce((sum, [, work]) => sum + of(work), 0);
}
