import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTrippedBreaker } from '../harness/findings.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  capacitor,
  comeBack,
  finishVisit,
  sell,
  sellCapacitor,
  sendOutcome,
  sendPart,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const workAt = async (visitId: string) =>
  expectStatus(await service.as('technician').get(`/v1/visits/${visitId}/work`), 200).body;

/** Both sections of one dual capacitor: two findings mended by one part. */
async function findBothSections(job: Job): Promise<[string, string]> {
  const herm = await findCapacitor(service, job);
  const at = { equipmentId: job.outdoorId, point: 'capacitor_fan', method: 'clamp_meter' };
  expectStatus(
    await service.as('technician').post(`/v1/visits/${job.visitId}/readings`, {
      readings: [
        { ...at, quantity: 'current', value: 0.3, unit: 'A' },
        { ...at, quantity: 'voltage', value: 352, unit: 'V' },
      ],
    }),
    201,
  );
  const fan = await addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'run_capacitor_fan',
    taskCode: 'replace_dual_run_capacitor',
    parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
  });
  return [herm, fan];
}

describe('no work is recorded that nobody agreed to', () => {
  it.each(['draft', 'issued'] as const)('under a quote that is %s', async (state) => {
    const job = await arriveAtJob(service);
    const findingId = await findCapacitor(service, job);
    let quote = await draftQuote(service, job, [findingId]);
    if (state === 'issued') quote = await issueQuote(service, quote);
    const under = { quoteId: quote.body.id, findingId };
    for (const send of [sendOutcome, sendPart]) {
      const refused = expectProblem(await send(service, job.visitId, under), 'not-allowed-now');
      expect(refused.body.currentState).toBe(state);
    }
    expect(await workAt(job.visitId)).toEqual({
      outcomes: [],
      partUses: [],
      partsLeftOver: [],
      refrigerantMoves: [],
    });
  });

  it('for a finding that the accepted option does not sell', async () => {
    const job = await arriveAtJob(service);
    const { quoteId } = await sellCapacitor(service, job);
    const findingId = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'trace_breaker_trip',
    });
    for (const send of [sendOutcome, sendPart]) {
      const refused = expectProblem(
        await send(service, job.visitId, { quoteId, findingId }),
        'unknown-reference',
      );
      expect(refused.body.errors[0].pointer).toBe('/findingId');
    }
  });

  it('under the yes of another ticket', async () => {
    const sold = await sellCapacitor(service, await arriveAtJob(service));
    const elsewhere = await arriveAtJob(service);
    const refused = expectProblem(
      await sendOutcome(service, elsewhere.visitId, sold),
      'unknown-reference',
    );
    expect(refused.body.errors[0].pointer).toBe('/quoteId');
  });

  it('under a yes that the customer cancelled', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await cancelYes(sold.quoteId);
    const refused = expectProblem(await sendOutcome(service, job.visitId, sold), 'not-allowed-now');
    expect(refused.body.detail).toContain('cancelled');
  });

  it('before anybody is there', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const later = await bookJob(service);
    const refused = expectProblem(
      await sendOutcome(service, later.visitId, sold),
      'not-allowed-now',
    );
    expect(refused.body.currentState).toBe('booked');
  });

  it('and the database itself refuses it too', async () => {
    const job = await arriveAtJob(service);
    const { quoteId } = await sellCapacitor(service, job);
    const breaker = await findTrippedBreaker(service, job);
    const insert = service.owner.query(
      `INSERT INTO work_outcome (id, quote_id, finding_id, visit_id, outcome, reason, recorded_at, recorded_by_id)
       VALUES (gen_random_uuid(), $1, $2, $3, 'not_done', 'A try.', now(), $4)`,
      [quoteId, breaker, job.visitId, service.staff.technician.id],
    );
    await expect(insert).rejects.toMatchObject({ constraint: 'work_outcome_was_agreed' });
  });
});

/** As the customer's notice would leave it, whatever the rules on the time for it say. */
async function cancelYes(quoteId: string): Promise<void> {
  await service.owner.query('ALTER TABLE quote_acceptance DISABLE TRIGGER ALL');
  await service.owner.query(
    "UPDATE quote_acceptance SET cancel_until = accepted_at + interval '3 days' WHERE quote_id = $1",
    [quoteId],
  );
  await service.owner.query('ALTER TABLE quote_acceptance ENABLE TRIGGER ALL');
  await service.owner.query(
    `INSERT INTO acceptance_cancellation (quote_id, cancelled_by_name, notice_text, cancelled_at, recorded_by_id)
     SELECT quote_id, 'Winifred Ashgrove', 'I cancel.', accepted_at, $2 FROM quote_acceptance WHERE quote_id = $1`,
    [quoteId, service.staff.dispatcher.id],
  );
}

describe('an outcome', () => {
  it('of work that was done says until when its labor is warranted', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const answer = expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    // The clock stands on July 14 in the company's zone.
    expect(answer.body).toMatchObject({ outcome: 'done', laborWarrantyUntil: '2026-08-13' });
    expect((await workAt(job.visitId)).outcomes).toEqual([answer.body]);
  });

  it('of work that was not done says why, and warrants nothing', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const body = { outcome: 'not_done', reason: 'The part did not fit.' };
    const answer = expectStatus(await sendOutcome(service, job.visitId, sold, body), 201);
    expect(answer.body).toMatchObject({ ...body, laborWarrantyUntil: null });
  });

  it.each([
    ['not done without a reason', { outcome: 'not_done' }],
    ['done with a reason why not', { reason: 'None.' }],
  ])('is refused when %s', async (_, change) => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const refused = await sendOutcome(service, job.visitId, sold, change);
    expect(expectProblem(refused, 'validation-failed').body.errors[0].pointer).toBe('/reason');
  });

  it('is said once, also when two say it at the same time', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const answers = await Promise.all([
      sendOutcome(service, job.visitId, sold),
      sendOutcome(service, job.visitId, sold, { outcome: 'not_done', reason: 'Not now.' }),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    const again = await sendOutcome(service, job.visitId, sold);
    expectProblem(again, 'already-exists');
  });

  it('may be recorded after the visit, and at the desk', async () => {
    const job = await arriveAtJob(service);
    const { quoteId, findingId } = await sellCapacitor(service, job);
    await finishVisit(service, job.visitId);
    const path = `/v1/visits/${job.visitId}/work-outcomes`;
    const body = { quoteId, findingId, outcome: 'done' };
    expectStatus(await service.as('dispatcher').post(path, body), 201);
  });
});

describe('no more parts are used than were sold', () => {
  it('one capacitor is one capacitor, with its serials and what became of the old one', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const serials = { serial: 'NEW-1', oldPart: 'kept_for_claim', oldSerial: 'OLD-1' };
    const used = expectStatus(await sendPart(service, job.visitId, sold, serials), 201);
    expect(used.body).toMatchObject({ ...capacitor, ...serials, measured: null });
    expect((await workAt(job.visitId)).partUses).toEqual([used.body]);
    const refused = expectProblem(await sendPart(service, job.visitId, sold), 'not-allowed-now');
    expect(refused.body).toMatchObject({ soldQuantity: '1', usedQuantity: '1' });
  });

  it('also when two use it at the same time', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const answers = await Promise.all([1, 2, 3].map(() => sendPart(service, job.visitId, sold)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
  });

  it('also when one part mends two findings', async () => {
    const job = await arriveAtJob(service);
    const [herm, fan] = await findBothSections(job);
    const quote = await sell(service, job, [herm, fan]);
    const under = (findingId: string) => ({ quoteId: quote.body.id, findingId });
    expectStatus(await sendPart(service, job.visitId, under(fan)), 201);
    expectProblem(await sendPart(service, job.visitId, under(herm)), 'not-allowed-now');
    // Each of the two is said to be mended all the same.
    expectStatus(await sendOutcome(service, job.visitId, under(herm)), 201);
    expectStatus(await sendOutcome(service, job.visitId, under(fan)), 201);
  });

  it.each([
    ['two where one was sold', { quantity: 2 }, 'not-allowed-now'],
    ['a part of another kind', { partCode: 'CON-2P-30-24' }, 'unknown-reference'],
    ['pieces by measure', { quantity: undefined, measured: '1' }, 'validation-failed'],
    ['both pieces and measure', { measured: '1' }, 'validation-failed'],
    ['neither', { quantity: undefined }, 'validation-failed'],
    ['nothing said of the old part', { oldPart: undefined }, 'validation-failed'],
  ] as const)('refuses %s', async (_, change, slug) => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectProblem(await sendPart(service, job.visitId, sold, change), slug);
    expect((await workAt(job.visitId)).partUses).toEqual([]);
  });
});

describe('parts and outcomes do not contradict each other', () => {
  const notDone = { outcome: 'not_done', reason: 'The part did not fit.' };

  it('no part goes in or stays over for work that was not done', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectStatus(await sendOutcome(service, job.visitId, sold, notDone), 201);
    const { partCode, quantity } = capacitor;
    const { quoteId, findingId } = sold;
    const leftOver = { quoteId, findingId, partCode, quantity, reason: 'Not needed.' };
    const path = `/v1/visits/${job.visitId}/parts-left-over`;
    for (const answer of [
      await sendPart(service, job.visitId, sold),
      await service.as('technician').post(path, leftOver),
    ]) {
      expect(expectProblem(answer, 'not-allowed-now').body).toMatchObject({
        detail:
          'This work is recorded as not done: The part did not fit. If that is wrong, strike it out.',
        currentState: 'not_done',
      });
    }
    expect((await workAt(job.visitId)).partUses).toEqual([]);
  });

  it('work for which a part went in was done', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const used = expectStatus(await sendPart(service, job.visitId, sold), 201);
    const refused = await sendOutcome(service, job.visitId, sold, notDone);
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      detail:
        'Part CAP-45-5-440 is recorded as used for this work, so it was done. If that is wrong, strike the part out.',
      partUseId: used.body.id,
    });
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
  });

  it('also when both are said at the same time', async () => {
    for (let round = 0; round < 4; round += 1) {
      const job = await arriveAtJob(service);
      const sold = await sellCapacitor(service, job);
      const answers = await Promise.all([
        sendPart(service, job.visitId, sold),
        sendOutcome(service, job.visitId, sold, notDone),
      ]);
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    }
  });
});

describe('a part taken from a truck', () => {
  async function truck(technicianId: string | undefined): Promise<string> {
    const kind = technicianId === undefined ? 'shelves' : 'truck';
    const place = { name: `Place ${crypto.randomUUID()}`, kind, technicianId };
    return expectStatus(await service.as('dispatcher').post('/v1/stock-places', place), 201).body
      .id;
  }

  it('leaves it in the same act, for that visit', async () => {
    const placeId = await truck(service.staff.technician.id);
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectStatus(await sendPart(service, job.visitId, sold, { stockPlaceId: placeId }), 201);
    const { items } = expectStatus(
      await service.as('technician').get(`/v1/stock-places/${placeId}/moves`),
      200,
    ).body;
    expect(items).toMatchObject([
      { partCode: capacitor.partCode, quantity: '-1', kind: 'used', visitId: job.visitId },
    ]);
  });

  it('is not recorded at all when the place is not theirs', async () => {
    const placeId = await truck(undefined);
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const refused = await sendPart(service, job.visitId, sold, { stockPlaceId: placeId });
    expectProblem(refused, 'not-found');
    expect((await workAt(job.visitId)).partUses).toEqual([]);
  });
});

describe('a technician has own visits only', () => {
  it('another’s visit does not exist for them, whatever is done there', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const other = service.as('second_technician');
    const path = `/v1/visits/${job.visitId}`;
    const { quoteId, findingId } = sold;
    const under = { quoteId, findingId };
    expectStatus(await other.get(`${path}/work`), 404);
    expectStatus(await other.post(`${path}/work-outcomes`, { ...under, outcome: 'done' }), 404);
    expectStatus(await other.post(`${path}/part-uses`, { ...under, ...capacitor }), 404);
    const move = {
      equipmentId: job.outdoorId,
      refrigerant: 'R-410A',
      direction: 'charged',
      cylinder: 'C-1',
      beforeOz: '400',
      afterOz: '384',
    };
    expectStatus(await other.post(`${path}/refrigerant-moves`, move), 404);
    expectStatus(await service.as('dispatcher').get(`${path}/work`), 200);
  });
});

it('work that waited for its part is done at the return visit, under the yes of the first', async () => {
  const job = await arriveAtJob(service, await addSite(service));
  const sold = await sellCapacitor(service, job);
  await finishVisit(service, job.visitId, 'waiting_for_part');
  const back = await comeBack(service, job, 'return');
  expectStatus(await sendPart(service, back.visitId, sold), 201);
  expectStatus(await sendOutcome(service, back.visitId, sold), 201);
  expect((await workAt(back.visitId)).outcomes).toHaveLength(1);
  expect((await workAt(job.visitId)).outcomes).toEqual([]);
});
