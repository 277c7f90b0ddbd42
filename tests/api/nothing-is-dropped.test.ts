import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chargedPlate, record } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  type Job,
  outdoorPlate,
  proveCapacitor,
} from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  bookNext,
  closing,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendReopen,
  ticketAt,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const NO_READINGS = { noReadingsWhy: 'Nothing was mended.' };

async function sendCancel({ ticketId }: Job) {
  const { tag } = await ticketAt(service, ticketId);
  const path = `/v1/tickets/${ticketId}/cancel`;
  return service.as('dispatcher').post(path, { reason: 'Called off.' }, { ifMatch: tag });
}

async function sendSolved({ ticketId }: Job) {
  const { tag } = await ticketAt(service, ticketId);
  const answers = [{ code: 'thermostat_calling_cooling', answer: 'no' }];
  const body = { answers, whatHelped: 'Set to cool.' };
  const path = `/v1/tickets/${ticketId}/resolve-by-phone`;
  return service.as('dispatcher').post(path, body, { ifMatch: tag });
}

async function sendNoAccess({ visitId }: Job) {
  const path = `/v1/visits/${visitId}`;
  const ifMatch = (await service.as('technician').get(path)).headers['etag'] ?? '';
  const body = { reason: 'Nobody was home.' };
  return service.as('technician').post(`${path}/report-no-access`, body, { ifMatch });
}

/** The ticket is new again: who was to come back was called off. */
async function callOffReturn(job: Job): Promise<void> {
  const booked = expectStatus(await bookNext(service, job.ticketId, { purpose: 'return' }), 201);
  const path = `/v1/visits/${booked.body.id}/cancel`;
  const ifMatch = booked.headers['etag'] ?? '';
  const off = await service.as('dispatcher').post(path, { reason: 'Not now.' }, { ifMatch });
  expectStatus(off, 200);
}

async function billedCents({ ticketId }: Job): Promise<number[]> {
  const path = `/v1/invoices?ticketId=${ticketId}`;
  const { items } = expectStatus(await service.as('dispatcher').get(path), 200).body;
  const billed: number[] = [];
  for (const { id } of items) billed.push((await readInvoice(service, id)).body.totalCents);
  return billed;
}

describe('a ticket is closed and billed, never cancelled', () => {
  it.each(['waiting_for_part', 'waiting_for_answer', 'work_complete'] as const)(
    'once work was agreed to and done, while it is %s',
    async (ticketIs) => {
      const job = await arriveAtJob(service);
      const sold = await sellCapacitor(service, job);
      await fitCapacitor(service, job.visitId, sold);
      await measureAfter(service, job);
      await finishVisit(service, job.visitId, ticketIs);
      const refused = expectProblem(await sendCancel(job), 'not-allowed-now');
      expect(refused.body).toMatchObject({
        detail: `Quote ${sold.quote.body.number} was accepted. Close the ticket, and say what was done of it.`,
        currentState: ticketIs,
        allowedActions: expect.arrayContaining(['close']),
      });
      expectStatus(await sendClose(service, job.ticketId), 200);
      expect(await billedCents(job)).toEqual([sold.quote.body.acceptance.totalCents]);
    },
  );

  it('while the fee of a trip is not billed, said yes to or not', async () => {
    const job = await arriveAtJob(service);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const refused = expectProblem(await sendCancel(job), 'not-allowed-now');
    expect(refused.body.detail).toContain('fee is not billed yet. Close the ticket.');
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    expect(await billedCents(job)).toEqual([8_900]);
  });

  it('when the trip back was called off, with what was not done on record', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    await callOffReturn(job);
    expect((await ticketAt(service, job.ticketId)).body).toMatchObject({ state: 'new' });
    for (const send of [sendCancel, sendSolved]) {
      const refused = expectProblem(await send(job), 'not-allowed-now');
      expect(refused.body).toMatchObject({ allowedActions: ['book', 'close'] });
      expect(refused.body.detail).toContain('was accepted. Close the ticket');
    }
    const why = { outcome: 'not_done', reason: 'The customer sold the house.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, why), 201);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    expect((await billedCents(job))[0]).toBeGreaterThan(0);
  });

  it('when it was reopened and nobody has to come after all', async () => {
    const job = await arriveAtJob(service);
    await fitCapacitor(service, job.visitId, await sellCapacitor(service, job));
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    expectProblem(await sendCancel(job), 'not-allowed-now');
    const how = { noReadingsWhy: 'The customer called: it cools.' };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
  });

  it('and the database refuses to drop it too', async () => {
    const job = await arriveAtJob(service);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const drop = service.owner.query("UPDATE ticket SET state = 'cancelled' WHERE id = $1", [
      job.ticketId,
    ]);
    await expect(drop).rejects.toMatchObject({ constraint: 'ticket_dropped_without_work' });
  });
});

describe('a ticket where nobody was', () => {
  it('is cancelled, not closed', async () => {
    const job = await bookJob(service);
    const path = `/v1/visits/${job.visitId}/cancel`;
    const body = { reason: 'Called off.' };
    expectStatus(await service.as('dispatcher').post(path, body, { ifMatch: job.visitTag }), 200);
    const { tag } = await ticketAt(service, job.ticketId);
    const close = `/v1/tickets/${job.ticketId}/close`;
    const how = { ...closing, ...NO_READINGS };
    const refused = await service.as('dispatcher').post(close, how, { ifMatch: tag });
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      detail: 'Nobody was there yet. Cancel the ticket instead.',
      allowedActions: ['resolve_by_phone', 'book', 'cancel'],
    });
    expectStatus(await sendCancel(job), 200);
  });

  it('is cancelled also when nobody let the technician in', async () => {
    const job = await arriveAtJob(service);
    expectStatus(await sendNoAccess(job), 200);
    expectStatus(await sendCancel(job), 200);
  });
});

describe('nobody was let in only where nothing was seen', () => {
  it.each([
    ['a reading', (job: Job) => proveCapacitor(service, job)],
    [
      'an observation',
      (job: Job) => {
        const seen = { equipmentId: job.outdoorId, code: 'outdoor_fan_running', answer: 'yes' };
        return record(service, job, { observations: [seen] });
      },
    ],
    [
      'a reading',
      async (job: Job) => {
        await draftQuote(service, job, [await findCapacitor(service, job)]);
      },
    ],
    [
      'a reading',
      async (job: Job) => fitCapacitor(service, job.visitId, await sellCapacitor(service, job)),
    ],
  ])('not with %s on record', async (what, arrange) => {
    const job = await arriveAtJob(service);
    await arrange(job);
    const refused = expectProblem(await sendNoAccess(job), 'not-allowed-now');
    expect(refused.body).toMatchObject({
      detail: `You were let in: ${what} is on record at this visit. Finish the visit instead.`,
      currentState: 'on_site',
      allowedActions: ['finish'],
    });
  });

  it('but where all that was on record was struck out, it was the house next door', async () => {
    const nameplate = { ...outdoorPlate, ...chargedPlate };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    const technician = service.as('technician');
    const recovered = {
      ...{ equipmentId: job.outdoorId, refrigerant: 'R-410A', direction: 'recovered' },
      ...{ cylinder: 'C-17', beforeOz: '0', afterOz: '36' },
    };
    const weighing = `/v1/visits/${job.visitId}/refrigerant-moves`;
    expectStatus(await technician.post(weighing, recovered), 201);
    const work = await technician.get(`/v1/visits/${job.visitId}/work`);
    const [move] = expectStatus(work, 200).body.refrigerantMoves;
    expectProblem(await sendNoAccess(job), 'not-allowed-now');
    const why = { reason: 'It is of the house next door.' };
    expectStatus(await technician.post(`/v1/refrigerant-moves/${move.id}/strike`, why), 200);
    expect(expectStatus(await sendNoAccess(job), 200).body.state).toBe('no_access');
  });
});

describe('what a ticket and a quote say can be done is what will be done', () => {
  const allowedOn = async ({ ticketId }: Pick<Job, 'ticketId'>) => {
    const dispatcher = service.as('dispatcher');
    const { body } = expectStatus(await dispatcher.get(`/v1/tickets/${ticketId}`), 200);
    const { siteId, allowedActions } = body;
    const listed = expectStatus(await dispatcher.get(`/v1/tickets?siteId=${siteId}`), 200).body;
    expect(listed.items[0].allowedActions).toEqual(allowedActions);
    return allowedActions;
  };

  it('a ticket where nobody was is not closed, one with a trip is not cancelled', async () => {
    const { siteId } = await addSite(service);
    const call = { siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling'] };
    const opened = await service.as('dispatcher').post('/v1/tickets', call);
    const fresh = { ticketId: expectStatus(opened, 201).body.id };
    expect(await allowedOn(fresh)).toEqual(['resolve_by_phone', 'book', 'cancel']);
    const job = await arriveAtJob(service);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const allowed = await allowedOn(job);
    expect(allowed).toContain('close');
    expect(allowed).not.toContain('cancel');
  });

  it('work before the yes names what can be asked of its quote, a revision among it', async () => {
    const job = await arriveAtJob(service);
    const findingId = await findCapacitor(service, job);
    const { body } = await draftQuote(service, job, [findingId]);
    const refused = expectProblem(
      await sendOutcome(service, job.visitId, { quoteId: body.id, findingId }),
      'not-allowed-now',
    );
    expect(refused.body).toMatchObject({
      currentState: 'draft',
      allowedActions: body.allowedActions,
    });
    expect(body.allowedActions).toContain('revise');
  });
});
