import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addFinding, arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { openDays } from '../harness/open-days.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  comeBack,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sell,
  sendClose,
  sendOutcome,
  sendReopen,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
});
afterAll(() => service.close());

async function workOf({ ticketId }: Job, dayFrom = '2026-07-16') {
  const path = `/v1/tickets/${ticketId}/windows?from=${dayFrom}&days=14`;
  const { body } = expectStatus(await service.as('dispatcher').get(path), 200);
  for (const { planned } of body.items) expect(planned.minutes).toBe(body.work.minutes);
  expect(body.items).not.toEqual([]);
  return [body.purpose, body.work];
}

/** A yes to a new capacitor and a drain cleared. */
async function sellTwo(job: Job) {
  const capacitor = await findCapacitor(service, job);
  const answers = [
    ['drain_pan_full', 'yes'],
    ['drain_flows_when_tested', 'no'],
  ];
  const observations = answers.map(([code, answer]) => ({
    ...{ equipmentId: job.indoorId, code, answer },
  }));
  const path = `/v1/visits/${job.visitId}/observations`;
  expectStatus(await service.as('technician').post(path, { observations }), 201);
  const drain = await addFinding(service, job, {
    equipmentId: job.indoorId,
    faultCode: 'plugged_drain',
    taskCode: 'clear_condensate_drain',
  });
  const quote = await sell(service, job, [capacitor, drain]);
  const { id: quoteId, number } = quote.body;
  return {
    number,
    capacitor: { quoteId, findingId: capacitor },
    drain: { quoteId, findingId: drain },
  };
}

// By the invented price book: a capacitor takes 30 minutes behind a cabinet of 10, a drain 30 behind
// one of 10; to look for a cause, 20.
describe('who comes back needs the time of the accepted work', () => {
  it('that is not done; the way in counts as long as anything behind it is left', async () => {
    const job = await arriveAtJob(service);
    const { number, capacitor } = await sellTwo(job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    expect(await workOf(job)).toEqual([
      'return',
      {
        ...{ minutes: 80, basis: 'accepted_work' },
        says: `80 minutes, for the accepted work of quote ${number} that is not done.`,
      },
    ]);
    const back = await comeBack(service, job, 'return');
    await fitCapacitor(service, back.visitId, capacitor);
    await finishVisit(service, back.visitId, 'waiting_for_part');
    expect(await workOf(job)).toMatchObject(['return', { minutes: 40, basis: 'accepted_work' }]);
  });

  it('all of it over again, with a look for the cause, when the trouble is back', async () => {
    const job = await arriveAtJob(service);
    const { number, capacitor, drain } = await sellTwo(job);
    await fitCapacitor(service, job.visitId, capacitor);
    expectStatus(await sendOutcome(service, job.visitId, drain), 201);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    expect(await workOf(job)).toEqual([
      'callback',
      {
        ...{ minutes: 100, basis: 'accepted_work' },
        says:
          '100 minutes: 20 to look for the cause, the rest for the work of ' +
          `quote ${number} over again.`,
      },
    ]);
  });

  it('and what is usual where nothing was accepted, or all of it is done', async () => {
    const job = await arriveAtJob(service);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    expect(await workOf(job)).toMatchObject(['return', { basis: 'likely_tasks' }]);
    const back = await comeBack(service, job, 'return');
    const { capacitor, drain } = await sellTwo(back);
    await fitCapacitor(service, back.visitId, capacitor);
    expectStatus(await sendOutcome(service, back.visitId, drain), 201);
    await finishVisit(service, back.visitId, 'waiting_for_part');
    expect(await workOf(job)).toMatchObject(['return', { basis: 'likely_tasks' }]);
  });
});
