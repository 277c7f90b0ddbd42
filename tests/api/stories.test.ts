import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { observationWords } from '../../src/trade/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import {
  findOpenFloatSwitch,
  findPluggedDrain,
  findTrippedBreaker,
  findWornContactor,
  record,
} from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  freeWindow,
  issueQuote,
  type Job,
  type QuoteAt,
  waitsForPart,
  yesTo,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('a call solved by phone', () => {
  const helped = 'The thermostat was on heat; set to cool, and it cools.';
  const safeAnswer = { code: 'thermostat_calling_cooling', answer: 'no', note: 'it was on heat' };

  it('ends at no charge: afterwards no visit can be booked, so no fee can exist', async () => {
    const { ticket, tag } = await openTicket();
    const dispatcher = service.as('dispatcher');
    const solved = await dispatcher.post(
      `/v1/tickets/${ticket.id}/resolve-by-phone`,
      { answers: [safeAnswer], whatHelped: helped },
      { ifMatch: tag },
    );
    expect(expectStatus(solved, 200).body).toMatchObject({
      state: 'resolved_by_phone',
      closingNote: helped,
    });
    const booking = await dispatcher.post('/v1/visits', {
      ticketId: ticket.id,
      technicianId: service.staff.technician.id,
      ...freeWindow(),
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    });
    expect(expectProblem(booking, 'not-allowed-now').body).toMatchObject({
      currentState: 'resolved_by_phone',
      action: 'book',
      allowedActions: [],
    });
    expect(await count('visit', ticket.id)).toBe(0);
    expect(await count('quote', ticket.id)).toBe(0);
  });

  it('keeps what the caller answered as reported, never as seen by us', async () => {
    const { ticket, tag } = await openTicket();
    await service
      .as('dispatcher')
      .post(
        `/v1/tickets/${ticket.id}/resolve-by-phone`,
        { answers: [safeAnswer], whatHelped: helped },
        { ifMatch: tag },
      );
    const kept = await service.owner.query(
      'SELECT code, answer, source, visit_id FROM observation WHERE ticket_id = $1',
      [ticket.id],
    );
    expect(kept.rows).toEqual([
      { code: 'thermostat_calling_cooling', answer: 'no', source: 'reported', visit_id: null },
    ]);
  });

  const forbidden = Object.entries(observationWords)
    .filter(([, { by }]) => by === 'technician')
    .map(([code]) => code);

  it.each(forbidden)('never asks a homeowner for %s', async (code) => {
    const { ticket, tag } = await openTicket();
    const asked = await service
      .as('dispatcher')
      .post(
        `/v1/tickets/${ticket.id}/resolve-by-phone`,
        { answers: [safeAnswer, { code, answer: 'yes' }], whatHelped: helped },
        { ifMatch: tag },
      );
    const refusal = expectProblem(asked, 'validation-failed');
    expect(refusal.body.errors).toMatchObject([
      { pointer: '/answers/1/code', code: 'not_by_phone' },
    ]);
    expect(await count('observation', ticket.id)).toBe(0);
    const still = await service.as('dispatcher').get(`/v1/tickets/${ticket.id}`);
    expect(still.body.state).toBe('new');
  });

  it('is no way to end a ticket at which a technician has already been', async () => {
    const job = await arriveAtJob(service);
    const dispatcher = service.as('dispatcher');
    expectStatus(
      await service
        .as('technician')
        .post(`/v1/visits/${job.visitId}/finish`, waitsForPart, { ifMatch: job.visitTag }),
      200,
    );
    const again = await dispatcher.post('/v1/visits', {
      ticketId: job.ticketId,
      technicianId: service.staff.technician.id,
      ...freeWindow(),
      purpose: 'return',
      feeDisclosure: { toldFeeCents: 0, agreedBy: 'Winifred Ashgrove' },
    });
    expectStatus(
      await dispatcher.post(
        `/v1/visits/${expectStatus(again, 201).body.id}/cancel`,
        { reason: 'The part is late.' },
        { ifMatch: again.headers['etag'] ?? '' },
      ),
      200,
    );
    const ticket = await dispatcher.get(`/v1/tickets/${job.ticketId}`);
    const solved = await dispatcher.post(
      `/v1/tickets/${job.ticketId}/resolve-by-phone`,
      { answers: [safeAnswer], whatHelped: helped },
      { ifMatch: ticket.headers['etag'] ?? '' },
    );
    expect(expectProblem(solved, 'not-allowed-now').body).toMatchObject({
      currentState: 'new',
      allowedActions: ['book', 'close'],
    });
  });
});

describe('a breaker that was reset', () => {
  it('totals the visit fee and nothing else, where nothing of it is taxed', async () => {
    const job = await arriveAtJob(service);
    const quote = await draftQuote(service, job, [await findTrippedBreaker(service, job)]);
    expect(amounts(quote)).toEqual({ visit_fee: 8_900, 'labor reset_breaker': 0, tax: 0 });
    expect(quote.body.options[0].totalCents).toBe(8_900);
    expect(quote.body.declineTotalCents).toBe(8_900);
  });

  it('totals the fee and the tax on the fee, to the cent, where fees are taxed', async () => {
    expectStatus(
      await service.as('owner').post('/v1/tax-rules', {
        ...taxRule,
        jurisdiction: 'fee_county',
        taxableClasses: ['visit_fee', 'part', 'labor', 'access'],
      }),
      201,
    );
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction: 'fee_county' }));
    const quote = await draftQuote(service, job, [await findTrippedBreaker(service, job)]);
    // 8.25 % of 89.00 is 7.3425, rounded half up to 7.34.
    expect(amounts(quote)).toEqual({ visit_fee: 8_900, 'labor reset_breaker': 0, tax: 734 });
    expect(quote.body.options[0].totalCents).toBe(9_634);
    expect(quote.body.declineTotalCents).toBe(9_634);
  });

  it('is called incomplete until the cause of the trip has been looked for', async () => {
    const job = await arriveAtJob(service);
    const id = await findTrippedBreaker(service, job);
    expect(await finding(job, id)).toMatchObject({ remedyClass: 'reset', causeSearch: 'missing' });
    await record(service, job, {
      observations: [
        { equipmentId: job.outdoorId, code: 'breaker_trip_cause_looked_for', answer: 'yes' },
      ],
    });
    expect(await finding(job, id)).toMatchObject({ causeSearch: 'recorded' });
  });
});

describe('a plugged drain that opened its float switch', () => {
  it('charges clearing the drain and getting to it once; setting the switch back is 0.00', async () => {
    const job = await arriveAtJob(service);
    const quote = await draftQuote(service, job, [
      await findOpenFloatSwitch(service, job),
      await findPluggedDrain(service, job),
    ]);
    expect(amounts(quote)).toEqual({
      visit_fee: 8_900,
      // 30 minutes at 150.97 an hour: 75.485.
      'labor clear_condensate_drain': 7_549,
      'labor reset_float_switch': 0,
      // 10 minutes, once for both: 25.1616...
      'access indoor_unit_cabinet': 2_516,
      'credit visit_fee_credit': -4_450,
      tax: 0,
    });
    expect(quote.body.options[0].totalCents).toBe(14_515);
  });
});

describe('a failed capacitor found with a worn contactor', () => {
  it('discounts the second task, charges access once, credits half the fee, taxes the parts', async () => {
    const job = await arriveAtJob(service);
    const quote = await draftQuote(service, job, [
      await findCapacitor(service, job),
      await findWornContactor(service, job),
    ]);
    expect(amounts(quote)).toEqual({
      visit_fee: 8_900,
      // 18.40 and 21.75, both in the first tier: three times the cost.
      'part CAP-45-5-440': 5_520,
      'part CON-2P-30-24': 6_525,
      // 30 and 35 minutes at 150.97 an hour; 20 % off the one that is not the dearest.
      'labor replace_dual_run_capacitor': 7_549,
      'labor replace_contactor': 8_807,
      'discount second_task': -1_510,
      'access outdoor_unit_cabinet': 2_516,
      'credit visit_fee_credit': -4_450,
      // 8.25 % of 120.45 is 9.937125.
      tax: 994,
    });
    expect(quote.body.options[0].totalCents).toBe(34_851);
  });
});

describe('a declined quote', () => {
  it('keeps what was found, the condition left and the danger warned of; the fee is owed', async () => {
    const job = await arriveAtJob(service);
    const found = await findCapacitor(service, job);
    const issued = await issueQuote(service, await draftQuote(service, job, [found]));
    const path = `/v1/quotes/${issued.body.id}`;
    const declined = await service.as('technician').post(
      `${path}/decline`,
      {
        declinedByName: 'Winifred Ashgrove',
        reason: 'Wants to think about it.',
        conditionLeft: 'Off at the disconnect; the compressor does not start.',
        dangerWarned: 'Do not switch it on: the motor overheats.',
      },
      { ifMatch: issued.tag },
    );
    expect(expectStatus(declined, 200).body).toMatchObject({
      state: 'declined',
      allowedActions: [],
      declineTotalCents: 8_900,
      acceptance: null,
      decline: {
        revision: 1,
        conditionLeft: 'Off at the disconnect; the compressor does not start.',
        dangerWarned: 'Do not switch it on: the motor overheats.',
      },
    });
    expect(await finding(job, found)).toMatchObject({ standing: 'proven' });
    expect((await service.as('dispatcher').get(path)).body.options).toEqual(issued.body.options);
    expectStatus(await service.as('dispatcher').get(`${path}/paper`), 200);

    const tag = declined.headers['etag'] ?? '';
    const yes = await service.as('owner').post(`${path}/accept`, yesTo(issued), { ifMatch: tag });
    expect(expectProblem(yes, 'not-allowed-now').body.currentState).toBe('declined');
  });

  it('is no decline without the condition the system was left in', async () => {
    const job = await arriveAtJob(service);
    const issued = await issueQuote(
      service,
      await draftQuote(service, job, [await findCapacitor(service, job)]),
    );
    const declined = await service
      .as('technician')
      .post(
        `/v1/quotes/${issued.body.id}/decline`,
        { declinedByName: 'Winifred Ashgrove' },
        { ifMatch: issued.tag },
      );
    expect(expectProblem(declined, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/conditionLeft' },
    ]);
  });
});

async function openTicket() {
  const { siteId } = await addSite(service);
  const opened = await service.as('dispatcher').post('/v1/tickets', {
    siteId,
    complaint: 'It does not cool.',
  });
  expectStatus(opened, 201);
  return { ticket: opened.body as { id: string }, tag: opened.headers['etag'] ?? '' };
}

async function count(table: 'visit' | 'quote' | 'observation', ticketId: string): Promise<number> {
  const counted = await service.owner.query<{ n: number }>(
    `SELECT count(*)::int AS n FROM ${table} WHERE ticket_id = $1`,
    [ticketId],
  );
  return counted.rows[0]?.n ?? Number.NaN;
}

async function finding(job: Job, id: string): Promise<unknown> {
  const listed = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
  return listed.body.items.find((each: { id: string }) => each.id === id);
}

/** The amounts of the only option, each under what it is for. */
function amounts({ body }: QuoteAt): Record<string, number> {
  expect(body.options).toHaveLength(1);
  assertAddsUp(body.options[0]);
  return Object.fromEntries(
    body.options[0].lines.map((line: { kind: string; code: string; amountCents: number }) => [
      line.kind === line.code ? line.kind : `${line.kind} ${line.code}`,
      line.amountCents,
    ]),
  );
}
