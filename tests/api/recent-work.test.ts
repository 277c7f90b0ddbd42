import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addSite, arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { closeTicket, declineAll, offer } from '../harness/whole-job.ts';
import { fitCapacitor, sellCapacitor, sendReopen, ticketAt } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

async function mendedJob(): Promise<Job> {
  const job = await arriveAtJob(service);
  await fitCapacitor(service, job.visitId, await sellCapacitor(service, job));
  await closeTicket(service, job);
  return job;
}

async function call(siteId: string, symptoms?: string[]) {
  const ticket = { siteId, complaint: 'It blows warm air.', ...(symptoms && { symptoms }) };
  return expectStatus(await service.as('dispatcher').post('/v1/tickets', ticket), 201).body;
}

describe('whoever takes a call is warned of what was mended not long ago', () => {
  it('with the system, the work and what reopens it, and the ticket is opened all the same', async () => {
    const { ticketId, siteId, systemId } = await mendedJob();
    const { body: closed } = await ticketAt(service, ticketId);
    const [symptom] = closed.symptoms;
    const opened = await call(siteId, [symptom, 'noise']);
    expect(opened).toMatchObject({
      state: 'new',
      recentWork: [
        {
          ticketId,
          ticketNumber: closed.number,
          closedOn: '2026-07-14',
          symptoms: [symptom],
          repairs: [{ systemId, systemName: expect.any(String), task: expect.any(String) }],
          reopenUntil: '2026-08-13',
          reopenWith: `POST /v1/tickets/${ticketId}/reopen`,
        },
      ],
    });
  });

  it('also where a call has no symptom coded', async () => {
    const { siteId, ticketId } = await mendedJob();
    expect((await call(siteId)).recentWork).toMatchObject([{ ticketId, symptoms: [] }]);
  });

  it('not of another trouble, and not of another site', async () => {
    const { siteId } = await mendedJob();
    expect((await call(siteId, ['noise'])).recentWork).toEqual([]);
    expect((await call((await addSite(service)).siteId)).recentWork).toEqual([]);
  });

  it('until the end of the thirtieth day, as long as it reopens', async () => {
    const { siteId, ticketId } = await mendedJob();
    service.clock.set('2026-08-14T04:59:59Z');
    expect((await call(siteId)).recentWork).toMatchObject([{ ticketId }]);
    service.clock.set('2026-08-14T05:00:00Z');
    expect((await call(siteId)).recentWork).toEqual([]);
  });

  it('not of a ticket on which nothing was mended', async () => {
    const job = await arriveAtJob(service);
    await declineAll(service, await offer(service, job, [await findCapacitor(service, job)]));
    await closeTicket(service, job);
    expect((await call(job.siteId)).recentWork).toEqual([]);
  });

  it('not of a ticket that was reopened already', async () => {
    const { siteId, ticketId } = await mendedJob();
    expectStatus(await sendReopen(service, ticketId), 200);
    expect((await call(siteId)).recentWork).toEqual([]);
  });
});
