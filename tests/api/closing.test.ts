import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { chargedPlate, findLowCharge, findTrippedBreaker, record } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  outdoorPlate,
  yesTo,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  closing,
  comeBack,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sell,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendPart,
  ticketAt,
} from '../harness/work.ts';

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(async () => {
  job = await arriveAtJob(service);
});
afterAll(() => service.close());

const TASK_NAME = 'Replace the dual run capacitor';
const PART_NAME = 'Dual run capacitor 45/5 µF, 440 V';
const NO_READINGS = { noReadingsWhy: 'Nothing was mended.' };

async function invoicesOf({ ticketId }: Job): Promise<number> {
  const found = await service.owner.query(
    `SELECT count(*)::int AS invoices, count(DISTINCT c.id)::int AS closings
     FROM ticket_closing c LEFT JOIN invoice i ON i.closing_id = c.id WHERE c.ticket_id = $1`,
    [ticketId],
  );
  const [{ invoices, closings }] = found.rows;
  expect(invoices).toBe(closings);
  return invoices;
}

/** What closing says is missing. */
async function missingOf(at: Job, change: object = {}): Promise<Record<string, string>[]> {
  const refused = await sendClose(service, at.ticketId, change);
  return expectProblem(refused, 'work-not-recorded').body.missing;
}

describe('a ticket on which all is on record', () => {
  it('is closed with how it was left, and has the draft of its invoice', async () => {
    const sold = await sellCapacitor(service, job);
    await fitCapacitor(service, job.visitId, sold);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    const closed = expectStatus(await sendClose(service, job.ticketId), 200);
    expect(closed.body).toMatchObject({ state: 'closed', callback: false });
    expect(closed.body.firstClosedAt).not.toBeNull();
    expect(await invoicesOf(job)).toBe(1);
    const { items } = expectStatus(
      await service.as('technician').get(`/v1/tickets/${job.ticketId}/closings`),
      200,
    ).body;
    expect(items).toMatchObject([
      { ...closing, sequence: 1, noReadingsWhy: null, dangerWarned: null, callback: null },
    ]);
  });

  it('may be closed with nothing sold, saying why there are no readings', async () => {
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const how = { ...NO_READINGS, complaintGone: 'no', dangerWarned: 'The breaker stays off.' };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    expect(await invoicesOf(job)).toBe(1);
  });

  it('may be closed with work that was not done', async () => {
    const sold = await sellCapacitor(service, job);
    const why = { outcome: 'not_done', reason: 'The part did not fit.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, why), 201);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
  });

  it('may be closed when a quote was declined or has expired', async () => {
    const breaker = await findTrippedBreaker(service, job);
    await issueQuote(service, await draftQuote(service, job, [breaker]));
    const no = await issueQuote(service, await draftQuote(service, job, [breaker]));
    const body = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' };
    const path = `/v1/quotes/${no.body.id}/decline`;
    expectStatus(await service.as('technician').post(path, body, { ifMatch: no.tag }), 200);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    expect(await missingOf(job, NO_READINGS)).toMatchObject([{ what: 'answer' }]);
    const present = service.clock.now();
    service.clock.advance(400 * 86_400_000);
    const closed = await sendClose(service, job.ticketId, NO_READINGS);
    service.clock.set(present.toISOString());
    expectStatus(closed, 200);
  });
});

describe('closing names everything that is missing at once', () => {
  it('the answer, the outcomes, the parts and the readings, by name', async () => {
    const capacitor = await findCapacitor(service, job);
    const quote = await sell(service, job, [capacitor]);
    const { id: quoteId, number: quoteNumber } = quote.body;
    const work = { quoteId, quoteNumber, findingId: capacitor, taskName: TASK_NAME };
    await finishVisit(service, job.visitId);
    const refused = expectProblem(await sendClose(service, job.ticketId), 'work-not-recorded');
    expect(refused.body.detail).toBe(
      `Say whether '${TASK_NAME}' of quote ${quoteNumber} was done. And 1 more: see \`missing\`.`,
    );
    expect(refused.body.missing).toMatchObject([
      { what: 'outcome', ...work },
      { what: 'readings_after', say: expect.stringContaining('say why nothing was measured') },
    ]);
    expectStatus(await sendOutcome(service, job.visitId, { quoteId, findingId: capacitor }), 201);
    expect(await missingOf(job)).toMatchObject([
      {
        ...{ what: 'part', ...work, partCode: 'CAP-45-5-440', partName: PART_NAME },
        say: `Say whether '${PART_NAME}' of quote ${quoteNumber} went in or was left over.`,
      },
      { what: 'readings_after' },
    ]);
    expectStatus(await sendPart(service, job.visitId, { quoteId, findingId: capacitor }), 201);
    expect(await missingOf(job)).toMatchObject([{ what: 'readings_after' }]);
    expect((await ticketAt(service, job.ticketId)).body.state).toBe('work_complete');
    expect(await invoicesOf(job)).toBe(0);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
  });

  it('a quote that still waits for its answer', async () => {
    const breaker = await findTrippedBreaker(service, job);
    const quote = await issueQuote(service, await draftQuote(service, job, [breaker]));
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const { id: quoteId, number } = quote.body;
    expect(await missingOf(job)).toMatchObject([
      {
        ...{ what: 'answer', quoteId },
        say: `Quote ${number} waits for its answer. Record it, or withdraw the quote.`,
      },
      { what: 'readings_after' },
    ]);
  });

  it('the refrigerant of work on the circuit, the way it went', async () => {
    const site = await addSite(service, {
      outdoor: { nameplate: { ...outdoorPlate, ...chargedPlate } },
    });
    const at = await arriveAtJob(service, site);
    const findingId = await findLowCharge(service, at);
    const quote = await sell(service, at, [findingId]);
    const sold = { quoteId: quote.body.id, findingId };
    expectStatus(await sendOutcome(service, at.visitId, sold), 201);
    await measureAfter(service, at);
    await finishVisit(service, at.visitId);
    const move = { equipmentId: at.outdoorId, refrigerant: 'R-410A', cylinder: 'INV-12' };
    const path = `/v1/visits/${at.visitId}/refrigerant-moves`;
    // What came out does not say what went in.
    const out = {
      ...{ ...move, cylinder: 'INV-REC-3' },
      ...{ direction: 'recovered', beforeOz: '0', afterOz: '0.1' },
    };
    expectStatus(await service.as('technician').post(path, out), 201);
    expect(await missingOf(at)).toMatchObject([
      { what: 'part', ...sold },
      {
        ...{ what: 'refrigerant', ...sold, direction: 'charged' },
        say: expect.stringContaining('Weigh what went in'),
      },
    ]);
    const good = { partCode: 'REF-R-410A', quantity: undefined, measured: '2' };
    const unweighed = await sendPart(service, at.visitId, sold, good);
    expect(expectProblem(unweighed, 'not-allowed-now').body).toMatchObject({
      detail:
        'The scale says 0 oz went into this system; 32 oz would be recorded as used. Weigh it first.',
      chargedOz: '0',
      usedOz: '32',
    });
    const went = { ...move, direction: 'charged', beforeOz: '400', afterOz: '368.6' };
    expectStatus(await service.as('technician').post(path, went), 201);
    // 31.4 oz by the scale, which reads to half an ounce: 31.9 oz are 1.99 lb, and 2 lb are too much.
    expectProblem(await sendPart(service, at.visitId, sold, good), 'not-allowed-now');
    // Less went in than was sold, as the scale says; that is no reason to write down what is not so.
    const used = { ...good, measured: '1.99' };
    expectStatus(await sendPart(service, at.visitId, sold, used), 201);
    const more = { ...good, measured: '0.05' };
    expectProblem(await sendPart(service, at.visitId, sold, more), 'not-allowed-now');
    expectStatus(await sendClose(service, at.ticketId), 200);
  });

  it('readings after the work: what was read before somebody came back to do it is none', async () => {
    const sold = await sellCapacitor(service, job);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    await fitCapacitor(service, back.visitId, sold);
    await finishVisit(service, back.visitId);
    expect(await missingOf(job)).toMatchObject([{ what: 'readings_after' }]);
  });

  it('but not when the reading is of the visit at which it was done', async () => {
    const sold = await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    await fitCapacitor(service, back.visitId, sold);
    await measureAfter(service, back);
    await finishVisit(service, back.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
  });

  it('and takes what somebody only says for no reading', async () => {
    await finishVisitWith('reported');
    expect(await missingOf(job)).toMatchObject([{ what: 'readings_after' }]);
  });

  it('and what was seen after the work for one', async () => {
    await finishVisitWith('observed');
    expectStatus(await sendClose(service, job.ticketId), 200);
  });

  async function finishVisitWith(source: 'reported' | 'observed'): Promise<void> {
    const at = { equipmentId: job.outdoorId, phase: 'left' };
    const supply = { point: 'line_supply', quantity: 'voltage', value: 241, unit: 'V' };
    const reading = { ...at, ...supply, method: 'multimeter', source };
    await record(
      service,
      job,
      source === 'reported'
        ? { readings: [reading] }
        : { observations: [{ ...at, code: 'outdoor_fan_running', answer: 'yes' }] },
    );
    await finishVisit(service, job.visitId);
  }
});

describe('a ticket is not closed', () => {
  it('while its visit is under way', async () => {
    const refused = expectProblem(await sendClose(service, job.ticketId), 'not-allowed-now');
    expect(refused.body).toMatchObject({
      detail: 'A technician is there: finish the visit first. It cannot be closed.',
      currentState: 'in_progress',
      action: 'close',
      allowedActions: [],
    });
  });

  it('by a technician who was never there', async () => {
    await finishVisit(service, job.visitId);
    const { tag } = await ticketAt(service, job.ticketId);
    const path = `/v1/tickets/${job.ticketId}/close`;
    const body = { ...closing, ...NO_READINGS };
    const other = service.as('second_technician');
    expectProblem(await other.post(path, body, { ifMatch: tag }), 'not-found');
    expectProblem(await other.get(`/v1/tickets/${job.ticketId}/closings`), 'not-found');
    expectStatus(await service.as('dispatcher').post(path, body, { ifMatch: tag }), 200);
  });
});

describe('a technician who finished the visit too early', () => {
  const left = (job: Job, phase: string) => ({
    readings: [
      {
        equipmentId: job.outdoorId,
        point: 'line_supply',
        quantity: 'voltage',
        value: 241,
        unit: 'V',
        method: 'multimeter',
        phase,
      },
    ],
  });

  it('may still write down how things were left, on the day of the visit', async () => {
    await finishVisit(service, job.visitId);
    expect(await missingOf(job)).toMatchObject([{ what: 'readings_after' }]);
    const path = `/v1/visits/${job.visitId}/readings`;
    const technician = service.as('technician');
    expectProblem(await technician.post(path, left(job, 'found')), 'not-allowed-now');
    expectStatus(await technician.post(path, left(job, 'left')), 201);
    expectStatus(await sendClose(service, job.ticketId), 200);
    expectProblem(await technician.post(path, left(job, 'left')), 'not-allowed-now');
  });

  it('but not on another day', async () => {
    await finishVisit(service, job.visitId);
    service.clock.advance(86_400_000);
    const path = `/v1/visits/${job.visitId}/readings`;
    const late = await service.as('technician').post(path, left(job, 'left'));
    expect(expectProblem(late, 'not-allowed-now').body.currentState).toBe('finished');
  });
});

describe('once it is closed', () => {
  it('no work is recorded any more', async () => {
    const sold = await sellCapacitor(service, job);
    const why = { outcome: 'not_done', reason: 'The part did not fit.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, why), 201);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    const refused = await sendPart(service, job.visitId, sold);
    expect(expectProblem(refused, 'not-allowed-now').body.currentState).toBe('closed');
  });
});

describe('when two act at the same time', () => {
  it('two who close leave one closing and one invoice', async () => {
    await finishVisit(service, job.visitId);
    const answers = await Promise.all(
      [1, 2, 3].map(() => sendClose(service, job.ticketId, NO_READINGS)),
    );
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(await invoicesOf(job)).toBe(1);
  });

  it('a ticket is never closed over a yes whose work is not on record', async () => {
    for (let round = 0; round < 8; round += 1) {
      const at = await arriveAtJob(service);
      const findingId = await findCapacitor(service, at);
      const quote = await issueQuote(service, await draftQuote(service, at, [findingId]));
      await finishVisit(service, at.visitId, 'waiting_for_answer');
      const path = `/v1/quotes/${quote.body.id}/accept`;
      const [yes, closed] = await Promise.all([
        service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag }),
        sendClose(service, at.ticketId, NO_READINGS),
      ]);
      // Before the yes it still waits for an answer, after it for the work: closing is refused.
      expectProblem(closed, 'work-not-recorded');
      expectStatus(yes, 200);
    }
  });

  it('a quote is not issued on a ticket that is being closed, nor closed over one that is', async () => {
    for (let round = 0; round < 8; round += 1) {
      const at = await arriveAtJob(service);
      const findingId = await findCapacitor(service, at);
      const draft = await draftQuote(service, at, [findingId]);
      await finishVisit(service, at.visitId, 'waiting_for_answer');
      const path = `/v1/quotes/${draft.body.id}/issue`;
      const [issued, closed] = await Promise.all([
        service.as('technician').post(path, {}, { ifMatch: draft.tag }),
        sendClose(service, at.ticketId, NO_READINGS),
      ]);
      expect([issued.status, closed.status].sort()).toEqual([200, 409]);
    }
  });

  it('an outcome is recorded before the closing or not at all', async () => {
    for (let round = 0; round < 6; round += 1) {
      const at = await arriveAtJob(service);
      const sold = await sellCapacitor(service, at);
      await finishVisit(service, at.visitId);
      const why = { outcome: 'not_done', reason: 'Not today.' };
      const [said, closed] = await Promise.all([
        sendOutcome(service, at.visitId, sold, why),
        sendClose(service, at.ticketId, NO_READINGS),
      ]);
      expectStatus(said, 201);
      expect([200, 409]).toContain(closed.status);
      if (closed.status === 409) expectProblem(closed, 'work-not-recorded');
    }
  });
});

it('a ticket with nobody on its way yet is not closed either', async () => {
  const booked = await bookJob(service);
  const refused = expectProblem(await sendClose(service, booked.ticketId), 'not-allowed-now');
  expect(refused.body.currentState).toBe('scheduled');
});
