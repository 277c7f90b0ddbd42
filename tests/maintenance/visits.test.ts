import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { issueInvoice } from '../harness/invoice.ts';
import { arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { arriveForMaintenance, type Looked, lookAfter, sendOpen } from '../harness/maintenance.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  bookNext,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sell,
  sendClose,
} from '../harness/work.ts';

const terms = { startsOn: '2026-01-01', endsOn: '2028-01-01', months: [6, 7, 10] };

let service: TestService;
let looked: Looked;
beforeAll(async () => {
  service = await createTestService();
  looked = await lookAfter(service, terms);
});
afterAll(() => service.close());

async function billOf(ticketId: string) {
  const { id } = await service.db.prisma.invoice.findFirstOrThrow({ where: { ticketId } });
  return readInvoice(service, id);
}

describe('a visit for maintenance', () => {
  it('is booked without a fee, and as nothing else', async () => {
    const opened = expectStatus(await sendOpen(service, looked.agreementId, '2026-06'), 201);
    const ticketId = opened.body.id;
    const called = await bookNext(service, ticketId);
    expect(expectProblem(called, 'not-allowed-now').body.allowedPurposes).toEqual(['maintenance']);
    const purpose = 'maintenance';
    const told = { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' };
    const charged = await bookNext(service, ticketId, { purpose, feeDisclosure: told });
    expectProblem(charged, 'visit-fee-differs');
    const booked = await bookNext(service, ticketId, { purpose });
    expect(expectStatus(booked, 201).body).toMatchObject({ purpose, feeCents: 0 });
  });

  it('at which nothing is found ends with a bill of nothing', async () => {
    const job = await arriveForMaintenance(service, looked, '2026-07');
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expect(expectStatus(await sendClose(service, job.ticketId), 200).body.state).toBe('closed');
    const draft = await billOf(job.ticketId);
    expect(draft.body).toMatchObject({ state: 'draft', documents: [], totalCents: 0 });
    const issued = await issueInvoice(service, draft);
    expect(issued.body).toMatchObject({ state: 'settled', totalCents: 0, balanceCents: 0 });
  });

  it('at which a fault is found sells the repair, and charges no fee for the trip', async () => {
    const job = await arriveForMaintenance(service, looked, '2026-10');
    const findingId = await findCapacitor(service, job);
    const quote = await sell(service, job, [findingId]);
    const { lines, totalCents } = quote.body.options[0];
    const fees = lines.filter(({ kind }: { kind: string }) => kind === 'visit_fee');
    expect(fees).toMatchObject([
      {
        amountCents: 0,
        why: { sentence: 'No visit fee: maintenance under the agreement has no fee.' },
      },
    ]);
    await fitCapacitor(service, job.visitId, { quoteId: quote.body.id, findingId });
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
    const issued = await issueInvoice(service, await billOf(job.ticketId));
    expect(issued.body.totalCents).toBe(totalCents);
    expect(totalCents).toBeGreaterThan(0);
  });

  it('whose repair nobody agreed to has no fee either', async () => {
    const job = await arriveForMaintenance(service, looked, '2027-06');
    await findCapacitor(service, job);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
    expect((await billOf(job.ticketId)).body).toMatchObject({ documents: [], totalCents: 0 });
  });
});

describe('what was measured when a system was looked after', () => {
  async function measure(job: Job, readings: object[]): Promise<void> {
    const at = { equipmentId: job.outdoorId, method: 'multimeter' };
    const body = { readings: readings.map((each) => ({ ...at, ...each })) };
    const path = `/v1/visits/${job.visitId}/readings`;
    expectStatus(await service.as('technician').post(path, body), 201);
  }
  const volts = (value: number, phase = 'found') => ({
    ...{ point: 'line_supply', quantity: 'voltage', unit: 'V', value, phase },
  });
  const control = (value: number) => ({
    ...{ point: 'contactor_coil', quantity: 'voltage', unit: 'V', value },
  });

  it('is the latest of each quantity, as it was left before as it was found', async () => {
    const site = await lookAfter(service, terms);
    const baseline = async () => {
      const path = `/v1/systems/${site.systemId}/baseline`;
      return expectStatus(await service.as('technician').get(path), 200).body.readings;
    };
    const first = await arriveForMaintenance(service, site, '2026-06');
    expect(await baseline()).toEqual([]);
    await measure(first, [volts(231, 'left'), volts(229), volts(230), control(26)]);
    const [at] = [{ visitId: first.visitId, day: '2026-07-14' }];
    const ofFirst = [
      { point: 'contactor_coil', value: 26, phase: 'found', ...at },
      { point: 'line_supply', value: 231, phase: 'left', ...at },
    ];
    expect(await baseline()).toMatchObject(ofFirst);
    await finishVisit(service, first.visitId);
    service.clock.set('2026-07-16T15:00:00Z');
    // What is measured on a call for a fault is no baseline.
    const call = await arriveAtJob(service, site);
    await measure(call, [volts(212), control(19)]);
    await finishVisit(service, call.visitId);
    expect(await baseline()).toMatchObject(ofFirst);
    service.clock.advance(3_600_000);
    const second = await arriveForMaintenance(service, site, '2026-10');
    await measure(second, [volts(238)]);
    expect(await baseline()).toMatchObject([
      ofFirst[0],
      {
        point: 'line_supply',
        value: 238,
        phase: 'found',
        visitId: second.visitId,
        day: '2026-07-16',
      },
    ]);
    // Later visits are compared with it like with any other earlier one.
    const compared = await service
      .as('technician')
      .get(`/v1/visits/${second.visitId}/last-good?equipmentId=${site.outdoorId}`);
    expect(expectStatus(compared, 200).body.comparisons[0].before.visitId).toBe(call.visitId);
  });

  it('is shown of own sites alone', async () => {
    const { systemId } = await lookAfter(service, terms);
    const path = `/v1/systems/${systemId}/baseline`;
    expectProblem(await service.as('technician').get(path), 'not-found');
    expect((await service.as('dispatcher').get(path)).body).toEqual({ systemId, readings: [] });
  });
});
