import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  acceptQuote,
  comeBack,
  finishVisit,
  sendOutcome,
  sendPart,
  ticketAt,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

async function offerCapacitor(): Promise<{ job: Job; findingId: string; quote: QuoteAt }> {
  const job = await arriveAtJob(service);
  const findingId = await findCapacitor(service, job);
  return { job, findingId, quote: await draftQuote(service, job, [findingId]) };
}

async function sendFinish({ visitId }: Job, ticketIs: string) {
  const path = `/v1/visits/${visitId}`;
  const ifMatch = (await service.as('technician').get(path)).headers['etag'] ?? '';
  return service.as('technician').post(`${path}/finish`, { ticketIs }, { ifMatch });
}

describe('a yes that comes after everybody has left', () => {
  it('is for work at the next visit: none of it was done at the one that was over', async () => {
    const { job, findingId, quote } = await offerCapacitor();
    const issued = await issueQuote(service, quote);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.advance(60_000);
    const accepted = await acceptQuote(service, issued);
    const sold = { quoteId: accepted.body.id, findingId };
    for (const refused of [
      await sendOutcome(service, job.visitId, sold),
      await sendPart(service, job.visitId, sold),
    ]) {
      const { body } = expectProblem(expectStatus(refused, 409), 'not-allowed-now');
      expect(body.detail).toContain('The yes came after this visit was over');
    }
    const back = await comeBack(service, job, 'return');
    expectStatus(await sendPart(service, back.visitId, sold), 201);
    expectStatus(await sendOutcome(service, back.visitId, sold), 201);
  });

  it('may be said not to have been done at all', async () => {
    const { job, findingId, quote } = await offerCapacitor();
    const issued = await issueQuote(service, quote);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.advance(60_000);
    const { body } = await acceptQuote(service, issued);
    const notDone = { outcome: 'not_done', reason: 'The customer sold the house.' };
    const sold = { quoteId: body.id, findingId };
    expectStatus(await sendOutcome(service, job.visitId, sold, notDone), 201);
  });
});

describe('work is not called complete while somebody can still say yes', () => {
  it('but the ticket waits for the answer, or the answer is taken first', async () => {
    const { job, quote } = await offerCapacitor();
    const issued = await issueQuote(service, quote);
    const refused = expectProblem(
      expectStatus(await sendFinish(job, 'work_complete'), 409),
      'not-allowed-now',
    );
    expect(refused.body).toMatchObject({
      detail: `Quote ${issued.body.number} has no answer yet. Take the answer first, or finish with the ticket waiting for it.`,
      currentState: 'on_site',
      allowedActions: ['finish'],
    });
    expectStatus(await sendFinish(job, 'waiting_for_answer'), 200);
    expect((await ticketAt(service, job.ticketId)).body.state).toBe('waiting_for_answer');
  });

  it('unless the offer has run out', async () => {
    const { job, quote } = await offerCapacitor();
    const { body } = await issueQuote(service, quote);
    const before = service.clock.now().toISOString();
    service.clock.set(new Date(Date.parse(body.validUntil) + 1_000).toISOString());
    expectStatus(await sendFinish(job, 'work_complete'), 200);
    service.clock.set(before);
  });

  it('and no offer goes out once it is', async () => {
    const { job, quote } = await offerCapacitor();
    await finishVisit(service, job.visitId, 'work_complete');
    const path = `/v1/quotes/${quote.body.id}/issue`;
    const refused = await service.as('technician').post(path, {}, { ifMatch: quote.tag });
    const { body } = expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect(body).toMatchObject({ currentState: 'work_complete', allowedActions: ['close'] });
  });
});
