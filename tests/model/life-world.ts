import type { Response } from 'supertest';
import { expect } from 'vitest';
import { findPluggedDrain, findTrippedBreaker, findWornContactor } from '../harness/findings.ts';
import { addSite, arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import type { Model, Verdict } from './life-model.ts';

/** The real thing: one ticket of the service under test. */
export interface World {
  service: TestService;
  job: Job;
  findingIds: string[];
}

const DAY_MS = 86_400_000;

/** A window on the next Monday, in regular hours, that no other ticket of the run has taken. */
export function nextWindow(service: TestService): { windowStart: string; windowEnd: string } {
  service.clock.advance(8 * DAY_MS);
  const day = service.clock.now();
  day.setUTCDate(day.getUTCDate() + ((8 - day.getUTCDay()) % 7));
  const date = day.toISOString().slice(0, 10);
  return { windowStart: `${date}T19:00:00Z`, windowEnd: `${date}T21:00:00Z` };
}

/** A ticket with the technician on site and four proven findings. */
export async function beginLife(service: TestService): Promise<{ world: World; model: Model }> {
  // A home of its own: on a shared system the same fault would be a recall of an earlier life.
  const job = await arriveAtJob(service, await addSite(service), nextWindow(service));
  const findingIds = [
    await findCapacitor(service, job),
    await findWornContactor(service, job),
    await findTrippedBreaker(service, job),
    await findPluggedDrain(service, job),
  ];
  const model: Model = {
    nowMs: service.clock.now().getTime(),
    ticket: 'in_progress',
    visits: [{ id: job.visitId, purpose: 'call', isLive: true, isOver: false }],
    quotes: [],
    outcomes: new Map(),
    partsUsed: new Set(),
    readingsAfter: false,
    isFeeBilled: false,
    closedAtMs: undefined,
    isReopened: false,
    waitedForPart: false,
    invoices: [],
  };
  return { world: { service, job, findingIds }, model };
}

/** Holds an answer against what the model expects. @returns whether the act went through */
export function settle(answer: Response, verdict: Verdict, status = 200): boolean {
  if (verdict === 'goes_through') {
    expectStatus(answer, status);
    return true;
  }
  expect(answer.status, `expected ${verdict.join(' or ')}: ${answer.text}`).toBeGreaterThanOrEqual(
    400,
  );
  expect(verdict, answer.text).toContain(answer.body.code);
  return false;
}

/** Reads a thing with its tag. */
export async function readAt(
  world: World,
  path: string,
): Promise<{ tag: string; body: Response['body'] }> {
  const answer = expectStatus(await world.service.as('owner').get(path), 200);
  return { tag: answer.headers['etag'] ?? '', body: answer.body };
}

/** Acts on a thing by its present tag. */
export async function act(
  world: World,
  path: string,
  verb: string,
  body: object = {},
  tag?: string,
): Promise<Response> {
  const ifMatch = tag ?? (await readAt(world, path)).tag;
  return world.service.as('owner').post(`${path}/${verb}`, body, { ifMatch });
}
