import fc from 'fast-check';
import type { StaffKey } from '../../seed/company.ts';
import type { Site } from './job.ts';
import {
  startChecks,
  takeCall,
  smellGas as tellGas,
  endDanger as tellItIsOver,
} from './phone-checks.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** Somebody in the office, and the days on which nobody else books. */
export interface Writer {
  service: TestService;
  /** Nobody else writes of this home: nobody is sent into a danger, on whatever ticket it was told. */
  site: Site;
  /** From this Monday on every so many weeks. */
  monday: number;
  everyWeeks: number;
  seed: number;
}

interface Job {
  ticketId: string;
  visitId: string;
  tag: string;
  day: string;
  who: StaffKey;
  state: 'booked' | 'on_the_way' | 'on_site' | 'over';
  checks: 'none' | 'open' | 'danger' | 'done';
  plans: number;
}

/**
 * Does so many things at random of a busy day: books, plans, moves to the other technician, sets out,
 * arrives, cancels, is told of gas and that it is over. Ends with a visit whose danger stays open.
 */
export async function writeBusily(writer: Writer, times: number): Promise<void> {
  const jobs: Job[] = [];
  const picks = fc.sample(fc.nat(), { numRuns: 2 * times, seed: writer.seed });
  const book = async () => {
    jobs.push(await bookOn(writer, jobs.length));
  };
  for (let at = 0; at < times; at += 1) {
    const [one, other] = [picks[2 * at] ?? 0, picks[2 * at + 1] ?? 0];
    const living = jobs.filter(({ state }) => state !== 'over');
    const job = living[one % (living.length + 1)];
    const inDanger = jobs.find(({ checks }) => checks === 'danger');
    if (job !== undefined) {
      const possible = stepsOf(job, inDanger === undefined);
      await possible[other % possible.length]?.(writer, job);
    } else if (inDanger !== undefined) await endDanger(writer, inDanger);
    else await book();
  }
  for (const job of jobs.filter(({ checks }) => checks === 'danger')) await endDanger(writer, job);
  const last = await bookOn(writer, jobs.length);
  await startToAsk(writer, last);
  await smellGas(writer, last);
}

type Act = (writer: Writer, job: Job) => Promise<void>;

/**
 * What may be done with a visit that is not over; always something.
 * @param isSafe nothing is open at the home that was told on any ticket
 */
function stepsOf({ state, checks }: Job, isSafe: boolean): Act[] {
  return [
    ...(state === 'booked' ? [plan, handOver, cancel] : []),
    ...(state === 'booked' && isSafe ? [setOut] : []),
    ...(state === 'on_the_way' ? [arrive] : []),
    ...(state === 'on_site' ? [finish] : []),
    ...(state !== 'on_site' && checks === 'none' ? [startToAsk] : []),
    ...(checks === 'open' ? [smellGas] : []),
    ...(checks === 'danger' ? [endDanger] : []),
  ];
}

async function bookOn({ service, site, monday, everyWeeks }: Writer, count: number): Promise<Job> {
  const { ticketId } = await takeCall(service, { site });
  const day = new Date(Date.UTC(2026, 6, 20 + 7 * (monday + everyWeeks * count)))
    .toISOString()
    .slice(0, 10);
  const who: StaffKey = count % 2 === 0 ? 'technician' : 'second_technician';
  const booked = await service.as('dispatcher').post('/v1/visits', {
    ...{ ticketId, technicianId: service.staff[who].id },
    ...{ windowStart: `${day}T18:00:00Z`, windowEnd: `${day}T20:00:00Z` },
    feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
  });
  const { body, headers } = expectStatus(booked, 201);
  const tag = headers['etag'] ?? '';
  return { ticketId, visitId: body.id, tag, day, who, state: 'booked', checks: 'none', plans: 0 };
}

const plan: Act = async ({ service }, job) => {
  job.plans += 1;
  const start = `${job.day}T18:${10 + (job.plans % 5) * 10}:00Z`;
  const body = { planned: { start, minutes: 45 } };
  const path = `/v1/visits/${job.visitId}/plan`;
  const done = await service.as('dispatcher').patch(path, body, { ifMatch: job.tag });
  job.tag = expectStatus(done, 200).headers['etag'] ?? '';
};

const handOver: Act = async ({ service }, job) => {
  const who: StaffKey = job.who === 'technician' ? 'second_technician' : 'technician';
  const technicianId = service.staff[who].id;
  const body = { technicianId, askedBy: 'company', reason: 'Nearer.' };
  const path = `/v1/visits/${job.visitId}/rebook`;
  const done = await service.as('dispatcher').post(path, body, { ifMatch: job.tag });
  const moved = expectStatus(done, 201);
  Object.assign(job, { who, visitId: moved.body.id, tag: moved.headers['etag'] ?? '' });
};

function step(verb: string, state: Job['state'], body: object = {}): Act {
  return async ({ service }, job) => {
    const path = `/v1/visits/${job.visitId}/${verb}`;
    const done = await service.as('dispatcher').post(path, body, { ifMatch: job.tag });
    job.tag = expectStatus(done, 200).headers['etag'] ?? '';
    job.state = state;
  };
}
const setOut = step('start-travel', 'on_the_way');
const arrive = step('arrive', 'on_site');
const finish = step('finish', 'over', { ticketIs: 'waiting_for_answer' });
const cancel = step('cancel', 'over', { reason: 'They called it off.' });

const startToAsk: Act = async ({ service }, job) => {
  await startChecks(service, job.ticketId);
  job.checks = 'open';
};
const smellGas: Act = async ({ service }, job) => {
  await tellGas(service, job.ticketId);
  job.checks = 'danger';
};
const endDanger: Act = async ({ service }, job) => {
  await tellItIsOver(service, job.ticketId);
  job.checks = 'done';
};
