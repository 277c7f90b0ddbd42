import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arriveAtJob, bookJob, type Job, waitsForPart } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { bookNext, comeBack } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const { waitingFor } = waitsForPart;

function finish(job: Job, body: object) {
  const path = `/v1/visits/${job.visitId}/finish`;
  return service.as('technician').post(path, body, { ifMatch: job.visitTag });
}

/** A ticket that waits for a part until a day. */
async function waiting(promisedOn: string): Promise<Job> {
  const job = await arriveAtJob(service);
  const body = { ...waitsForPart, waitingFor: { ...waitingFor, promisedOn } };
  expectStatus(await finish(job, body), 200);
  return job;
}

async function tagOf({ ticketId }: Job): Promise<string> {
  const ticket = await service.as('dispatcher').get(`/v1/tickets/${ticketId}`);
  return ticket.headers['etag'] ?? '';
}

async function promise(job: Job, change: object = {}, ifMatch?: string) {
  const path = `/v1/tickets/${job.ticketId}/promise-part`;
  const body = { ...waitingFor, ...change };
  return service.as('dispatcher').post(path, body, { ifMatch: ifMatch ?? (await tagOf(job)) });
}

async function waitOf({ ticketId }: Job) {
  const { items } = expectStatus(
    await service.as('dispatcher').get('/v1/part-waits?limit=100'),
    200,
  ).body;
  return items.find((each: { ticketId: string }) => each.ticketId === ticketId);
}

describe('a visit that ends waiting for a part', () => {
  it('says what it waits for, the day that was promised and who was told', async () => {
    const job = await arriveAtJob(service);
    expect(expectStatus(await finish(job, waitsForPart), 200).body.state).toBe('finished');
    expect(await waitOf(job)).toMatchObject({
      ticketId: job.ticketId,
      siteId: job.siteId,
      promise: { ...waitingFor, visitId: job.visitId, partCode: null },
      overdue: false,
    });
  });

  it.each([
    ['no promise', { ticketIs: 'waiting_for_part' }, 'waitingFor'],
    [
      'a promise that is not asked for',
      { ...waitsForPart, ticketIs: 'work_complete' },
      'waitingFor',
    ],
    [
      'a day that is over',
      { ...waitsForPart, waitingFor: { ...waitingFor, promisedOn: '2026-07-13' } },
      'waitingFor/promisedOn',
    ],
    [
      'a year that nobody means',
      { ...waitsForPart, waitingFor: { ...waitingFor, promisedOn: '2126-07-20' } },
      'waitingFor/promisedOn',
    ],
  ])('is refused with %s', async (_, body, pointer) => {
    const job = await arriveAtJob(service);
    const refused = expectProblem(await finish(job, body), 'validation-failed');
    expect(refused.body.errors[0].pointer).toBe(`/${pointer}`);
    const visit = await service.as('technician').get(`/v1/visits/${job.visitId}`);
    expect(visit.body.state).toBe('on_site');
  });

  it('is refused with a part that no price book has', async () => {
    const job = await arriveAtJob(service);
    const body = { ...waitsForPart, waitingFor: { ...waitingFor, partCode: 'NO-SUCH' } };
    expectProblem(await finish(job, body), 'unknown-reference');
  });

  it('may be promised for today, until the day is over on the company’s clock', async () => {
    const job = await waiting('2026-07-14');
    expect((await waitOf(job)).overdue).toBe(false);
    // Past midnight by UTC, still the fourteenth by the company's own clock.
    service.clock.set('2026-07-15T04:59:00Z');
    expect((await waitOf(job)).overdue).toBe(false);
    service.clock.set('2026-07-15T05:01:00Z');
    expect((await waitOf(job)).overdue).toBe(true);
  });
});

describe('a return that is booked', () => {
  it('keeps the promise in the list, with whom to call, and says when it comes too late', async () => {
    const job = await waiting('2026-07-30');
    expect(await waitOf(job)).toMatchObject({
      occupant: { name: expect.stringContaining(' '), phone: expect.stringContaining('555-') },
      returnBookedFor: null,
      late: false,
    });
    const window = { windowStart: '2035-08-03T18:00:00Z', windowEnd: '2035-08-03T20:00:00Z' };
    expectStatus(await bookNext(service, job.ticketId, { purpose: 'return', ...window }), 201);
    expect(await waitOf(job)).toMatchObject({
      promise: { promisedOn: '2026-07-30' },
      returnBookedFor: '2035-08-03T18:00:00.000Z',
      late: true,
    });
  });

  it('is over once somebody is there', async () => {
    const job = await waiting('2026-07-30');
    await comeBack(service, job, 'return');
    expect(await waitOf(job)).toBeUndefined();
  });
});

describe('a new promise', () => {
  it('takes the place of the one before, which stays on record', async () => {
    const job = await waiting('2026-09-01');
    const later = { promisedOn: '2026-09-09', partCode: 'CON-2P-30-24' };
    expect(expectStatus(await promise(job, later), 200).body).toMatchObject(later);
    expect((await waitOf(job)).promise).toMatchObject({ ...later, visitId: null });
    const kept = await service.owner.query(
      'SELECT promised_on::text FROM part_wait WHERE ticket_id = $1 ORDER BY recorded_at, id',
      [job.ticketId],
    );
    expect(kept.rows.map((row) => row.promised_on)).toEqual(['2026-09-01', '2026-09-09']);
  });

  it('is made once when two call the customer at the same time', async () => {
    const job = await waiting('2026-09-01');
    const tag = await tagOf(job);
    const answers = await Promise.all([
      promise(job, { promisedOn: '2026-09-10' }, tag),
      promise(job, { promisedOn: '2026-09-20' }, tag),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412]);
  });

  it('is refused for a ticket that waits for nothing, and for a day that is over', async () => {
    const job = await bookJob(service);
    const refused = expectProblem(await promise(job), 'not-allowed-now');
    expect(refused.body).toMatchObject({ currentState: 'scheduled', action: 'promise_part' });
    const late = expectProblem(
      await promise(await waiting('2026-09-01'), { promisedOn: '2026-07-01' }),
      'validation-failed',
    );
    expect(late.body.errors[0].pointer).toBe('/promisedOn');
  });
});

it('the list has the soonest day first and loses nobody between its pages', async () => {
  const jobs = [
    await waiting('2026-10-20'),
    await waiting('2026-10-01'),
    await waiting('2026-10-20'),
  ];
  // Left over from before promises were kept: nobody was told a day, so it comes first.
  const old = await waiting('2026-10-10');
  await service.owner.query('ALTER TABLE part_wait DISABLE TRIGGER part_wait_insert_only');
  await service.owner.query('DELETE FROM part_wait WHERE ticket_id = $1', [old.ticketId]);
  await service.owner.query('ALTER TABLE part_wait ENABLE TRIGGER part_wait_insert_only');
  const dispatcher = service.as('dispatcher');
  const listed: { ticketId: string; overdue: boolean; promise: { promisedOn: string } | null }[] =
    [];
  let cursor: string | null = null;
  do {
    const query: string = cursor === null ? '' : `&cursor=${cursor}`;
    const { body } = expectStatus(await dispatcher.get(`/v1/part-waits?limit=2${query}`), 200);
    listed.push(...body.items);
    cursor = body.nextCursor;
  } while (cursor !== null);
  expect(listed[0]).toMatchObject({ ticketId: old.ticketId, promise: null, overdue: true });
  const days = listed.slice(1).map((each) => each.promise?.promisedOn ?? '');
  expect(days).toEqual([...days].sort());
  expect(new Set(listed.map(({ ticketId }) => ticketId)).size).toBe(listed.length);
  for (const { ticketId } of jobs) expect(listed.map((each) => each.ticketId)).toContain(ticketId);
});
