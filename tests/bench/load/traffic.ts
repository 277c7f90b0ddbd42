import { type Random, randomFor } from '../../../seed/big-company/random.ts';
import { type Office, type Step, type StepAnswer, stepsOfJob } from '../../harness/steps-of-job.ts';

/** A request of somebody at work. */
export interface Asked extends Step {
  /** What follows from the answer; the one who asked asks nothing else before. */
  onAnswer(answer: StepAnswer): void;
}

/** What there is to be looked at, and who looks. */
export interface Known extends Office {
  ticketIds: readonly string[];
  siteIds: readonly string[];
  quoteIds: readonly string[];
  /** What callers are looked for by: parts of names, ends of phone numbers. */
  searches: readonly string[];
  /** Days with visits on the board. */
  days: readonly string[];
}

/** Of ten requests, about this many change something. */
const WRITES_OF_TEN = 3;

/**
 * The requests of an office at work, one after another: people look up callers, tickets, sites,
 * quotes and the board, and beside that jobs are taken from the call to the issued quote.
 * @returns gives the next request; whoever has been asked nothing yet begins a new job
 */
export function trafficOf(known: Known, seed: number): () => Asked {
  const random = randomFor(seed, 'load', 0);
  const idle: Job[] = [];
  let begun = 0;
  return () => {
    if (random.int(1, 10) > WRITES_OF_TEN) return lookUp(known, random);
    const job = idle.shift() ?? newJob(known, begun++);
    return { ...job.next, onAnswer: (answer) => job.go(answer) && idle.push(job) };
  };
}

function lookUp(known: Known, random: Random): Asked {
  const ways = [
    `/v1/customers?search=${encodeURIComponent(one(known.searches, random))}`,
    `/v1/tickets/${one(known.ticketIds, random)}`,
    `/v1/tickets?siteId=${one(known.siteIds, random)}`,
    `/v1/sites/${one(known.siteIds, random)}`,
    `/v1/quotes/${one(known.quoteIds, random)}`,
    `/v1/board?day=${one(known.days, random)}`,
    '/v1/waiting',
  ];
  const headers = { authorization: `Bearer ${known.tokens.dispatcher}` };
  return {
    method: 'GET',
    path: one(ways, random),
    headers,
    kind: 'read',
    onAnswer: () => undefined,
  };
}

function one<T>(from: readonly T[], random: Random): T {
  const found = from[random.int(0, from.length - 1)];
  if (found === undefined) throw new Error('there is nothing to look at');
  return found;
}

interface Job {
  next: Step;
  /** @returns whether it goes on */
  go(answer: StepAnswer): boolean;
}

function newJob(known: Known, at: number): Job {
  const steps = stepsOfJob(known, at);
  const begin = steps.next();
  if (begin.done === true) throw new Error('a job has steps');
  const job: Job = {
    next: begin.value,
    go: (answer) => {
      const step = steps.next(answer);
      if (step.done === true) return false;
      job.next = step.value;
      return true;
    },
  };
  return job;
}
