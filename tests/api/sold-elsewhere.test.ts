import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sendTo } from '../harness/change-order.ts';
import { chargedPlate, findLowCharge, findWornContactor } from '../harness/findings.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  type Job,
  outdoorPlate,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { offer } from '../harness/whole-job.ts';
import {
  finishVisit,
  fitCapacitor,
  sell,
  sellCapacitor,
  sendOutcome,
  ticketAt,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const accept = (quote: QuoteAt) => sendTo(service, quote, 'accept', yesTo(quote));

function sendDraft({ visitId }: Job, findingIds: string[]) {
  return service
    .as('technician')
    .post('/v1/quotes', { visitId, options: [{ title: 'Again', findingIds }] });
}

describe('work that waits to be done on another open ticket of the site', () => {
  it('is not drafted a second time, and the other ticket is named', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const next = await arriveAtJob(service, job);
    const drafted = await sendDraft(next, [await findCapacitor(service, next)]);
    const refused = expectProblem(drafted, 'price-refused');
    expect(refused.body.errors[0].code).toBe('already_sold');
    const ticket = await ticketAt(service, job.ticketId);
    expect(refused.body.detail).toContain(
      `quote ${sold.quote.body.number} of ticket ${ticket.body.number}`,
    );
  });

  it('is neither issued nor accepted where it was offered before', async () => {
    const job = await arriveAtJob(service);
    const first = await offer(service, job, [await findCapacitor(service, job)]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const next = await arriveAtJob(service, job);
    const again = await findCapacitor(service, next);
    const second = await offer(service, next, [again]);
    const draft = await draftQuote(service, next, [again]);
    expectStatus(await accept(first), 200);
    expectProblem(await accept(second), 'price-refused');
    expectProblem(await sendTo(service, draft, 'issue'), 'price-refused');
  });

  it('is sold on one of them when both get their yes at once', async () => {
    for (let round = 0; round < 5; round += 1) {
      const job = await arriveAtJob(service);
      const first = await offer(service, job, [await findCapacitor(service, job)]);
      await finishVisit(service, job.visitId, 'waiting_for_answer');
      const next = await arriveAtJob(service, job);
      const second = await offer(service, next, [await findCapacitor(service, next)]);
      const answers = await Promise.all([accept(first), accept(second)]);
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 422]);
    }
  });

  it('also when the one is done along with the other: adding to a charge that is renewed', async () => {
    const nameplate = { ...outdoorPlate, ...chargedPlate };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    await findLowCharge(service, job);
    const renewed = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'low_charge',
      taskCode: 'renew_charge',
      parts: [{ partCode: 'REF-R-410A', measured: '7.25' }],
    });
    await sell(service, job, [renewed]);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const next = await arriveAtJob(service, job);
    const drafted = await sendDraft(next, [await findLowCharge(service, next)]);
    expectProblem(drafted, 'price-refused');
  });
});

describe('another ticket of the site stands in nobody’s way', () => {
  it('once the work there is done, or will not be', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const reason = { outcome: 'not_done', reason: 'The customer calls somebody else.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, reason), 201);
    const next = await arriveAtJob(service, job);
    const again = await sellCapacitor(service, next);
    await fitCapacitor(service, next.visitId, again);
    const third = await arriveAtJob(service, job);
    await draftQuote(service, third, [await findCapacitor(service, third)]);
  });

  it('for other work of the same machine, or the same work of another site', async () => {
    const job = await arriveAtJob(service);
    await sellCapacitor(service, job);
    const next = await arriveAtJob(service, job);
    await sell(service, next, [await findWornContactor(service, next)]);
    await sellCapacitor(service, await arriveAtJob(service));
  });
});
