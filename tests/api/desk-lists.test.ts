import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arriveAtJob, bookJob, draftQuote, findCapacitor, type Job } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let jobs: Job[];
beforeAll(async () => {
  service = await createTestService();
  jobs = [await arriveAtJob(service), await bookJob(service), await bookJob(service)];
  for (const job of jobs.slice(0, 1)) {
    const findingId = await findCapacitor(service, job);
    for (let drafted = 0; drafted < 3; drafted += 1) await draftQuote(service, job, [findingId]);
  }
});
afterAll(() => service.close());

async function walk(path: string): Promise<string[]> {
  const seen: string[] = [];
  for (let cursor = ''; ; ) {
    const page = expectStatus(await service.as('owner').get(`${path}${cursor}`), 200);
    seen.push(...page.body.items.map(({ id }: { id: string }) => id));
    if (page.body.nextCursor === null) return seen;
    cursor = `&cursor=${page.body.nextCursor}`;
  }
}

describe.each(['tickets', 'visits', 'quotes', 'journal'])('the list of %s', (list) => {
  it('can be walked from either end, page by page, to the same things', async () => {
    const oldest = await walk(`/v1/${list}?limit=2&order=oldest`);
    const newest = await walk(`/v1/${list}?limit=2&order=newest`);
    expect(oldest.length).toBeGreaterThan(2);
    expect(newest).toEqual(oldest.toReversed());
  });

  it('begins with the oldest unless told', async () => {
    expect(await walk(`/v1/${list}?limit=100`)).toEqual(
      await walk(`/v1/${list}?limit=100&order=oldest`),
    );
  });

  it('refuses to turn round in the middle: a cursor belongs to its order', async () => {
    const { body } = await service.as('owner').get(`/v1/${list}?limit=1&order=newest`);
    const turned = await service.as('owner').get(`/v1/${list}?limit=1&cursor=${body.nextCursor}`);
    expectProblem(turned, 'cursor-invalid');
  });
});

describe('the board of the day', () => {
  it('shows the tickets of several states at once, and their cursor has one form', async () => {
    const dispatcher = service.as('dispatcher');
    const states = async (filter: string) => {
      const { body } = expectStatus(await dispatcher.get(`/v1/tickets?state=${filter}`), 200);
      return body.items.map(({ state }: { state: string }) => state).sort();
    };
    expect(await states('scheduled')).toEqual(['scheduled', 'scheduled']);
    expect(await states('in_progress,scheduled')).toEqual([
      'in_progress',
      'scheduled',
      'scheduled',
    ]);
    expect(await states('new,closed')).toEqual([]);
    const { body } = await dispatcher.get('/v1/tickets?limit=1&state=scheduled,in_progress');
    const same = `state=in_progress,scheduled,scheduled&cursor=${body.nextCursor}`;
    expectStatus(await dispatcher.get(`/v1/tickets?limit=1&${same}`), 200);
  });

  it('shows the visits of several states at once', async () => {
    const { body } = await service.as('dispatcher').get('/v1/visits?state=booked,on_site');
    expect(body.items).toHaveLength(3);
  });

  it.each(['', 'scheduled,', 'scheduled,lost', 'scheduled, new'])(
    'refuses the states "%s", and says which there are',
    async (state) => {
      const refused = await service
        .as('dispatcher')
        .get(`/v1/tickets?state=${encodeURIComponent(state)}`);
      expectProblem(refused, 'validation-failed');
      expect(refused.body.errors).toEqual([
        expect.objectContaining({
          in: 'query',
          pointer: '/state',
          message: expect.stringContaining('new, scheduled, in_progress'),
        }),
      ]);
    },
  );

  it('finds a ticket by the number people say on the phone', async () => {
    const dispatcher = service.as('dispatcher');
    const [job] = jobs;
    const { number } = (await dispatcher.get(`/v1/tickets/${job?.ticketId}`)).body;
    const { body } = await dispatcher.get(`/v1/tickets?number=${number}`);
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual([job?.ticketId]);
    expect((await dispatcher.get('/v1/tickets?number=7')).body.items).toEqual([]);
  });
});
