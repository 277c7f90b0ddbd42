import { Worker } from 'node:worker_threads';
import type { Crew, DayPlan, Effort, Road, Stop } from '../planning/index.ts';
import { ProblemError } from '../platform/http/problem.ts';

/** What a day is planned from. */
export interface PlanOrder {
  readonly crews: readonly Crew[];
  readonly stops: readonly Stop[];
  readonly road: Road;
  readonly effort: Effort;
}

/** What the thread is sent, and what it answers. */
export interface PlanRequest {
  id: number;
  order: PlanOrder;
}
export type PlanAnswer = { id: number } & ({ plan: DayPlan } | { failure: string });

/**
 * Plans a day on a thread beside the one that answers: it takes seconds of a processor, and whoever
 * books meanwhile waits for nothing. There is one such thread, started by the first plan; days are
 * planned one after another.
 * @throws ProblemError 503 when it took too long; Error when it failed
 */
export function planBeside(order: PlanOrder): Promise<DayPlan> {
  open ??= openPlanner();
  const planner = open;
  return new Promise((resolve, reject) => {
    lastId += 1;
    const id = lastId;
    const limit = setTimeout(() => planner.end(tookTooLong()), PLAN_MS_MAX);
    planner.waiting.set(id, { resolve, reject, limit });
    planner.worker.ref();
    planner.worker.postMessage({ id, order } satisfies PlanRequest);
  });
}

interface Waiting {
  resolve(plan: DayPlan): void;
  reject(error: Error): void;
  limit: NodeJS.Timeout;
}

interface Planner {
  worker: Worker;
  waiting: Map<number, Waiting>;
  end(why: Error): void;
}

let open: Planner | undefined;
let lastId = 0;

const START = new URL('./start-plan-worker.mjs', import.meta.url);
/** Less than the transaction may last that keeps the plan. */
const PLAN_MS_MAX = 9_000;

function openPlanner(): Planner {
  const worker = new Worker(START);
  const waiting: Planner['waiting'] = new Map();
  const take = (id: number): Waiting | undefined => {
    const found = waiting.get(id);
    clearTimeout(found?.limit);
    waiting.delete(id);
    // A thread that has nothing to do keeps no process alive.
    if (waiting.size === 0) worker.unref();
    return found;
  };
  const end = (why: Error): void => {
    if (open?.worker === worker) open = undefined;
    for (const id of [...waiting.keys()]) take(id)?.reject(why);
    void worker.terminate();
  };
  worker.on('message', (answer: PlanAnswer) => {
    const asker = take(answer.id);
    if ('plan' in answer) asker?.resolve(answer.plan);
    else asker?.reject(new Error(answer.failure));
  });
  worker.on('error', end);
  worker.on('exit', () => end(new Error('the thread that plans days has ended')));
  return { worker, waiting, end };
}

function tookTooLong(): ProblemError {
  return new ProblemError('unavailable', 'Planning the day took too long.');
}
