import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { amounts, draftChange, offerChange, sendChange, sendTo } from '../harness/change-order.ts';
import {
  findOpenFuse,
  findPluggedDrain,
  findTrippedBreaker,
  findWornContactor,
  record,
} from '../harness/findings.ts';
import {
  addFinding,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { limitApprover } from '../harness/limit-approver.ts';
import { tagged } from '../harness/tagged.ts';
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
  sell,
  sellCapacitor,
  sendClose,
  sendOutcome,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/*
 * An hour of labor is 150.97 by the invented book, so 10 minutes are 25.16, 30 minutes 75.49 and
 * 35 minutes 88.07. The capacitor is 55.20, the contactor 65.25, the control fuse 1.35. A second
 * task has 20 % off its labor: 15.10 off 75.49. Tax is 8.25 % of parts.
 */

/** A job with a yes to a new capacitor: 89.00 + 55.20 + 75.49 + 25.16 - 44.50 + 4.55 = 204.90. */
async function soldCapacitor() {
  const job = await arriveAtJob(service);
  const sold = await sellCapacitor(service, job);
  expect(sold.quote.body.options[0].totalCents).toBe(20_490);
  return { job, sold, root: sold.quote };
}

async function paperOf({ body }: QuoteAt) {
  const { rows } = await service.owner.query('SELECT paper FROM quote_issue WHERE quote_id = $1', [
    body.id,
  ]);
  return rows[0].paper;
}

describe('work beyond the accepted option', () => {
  it('is a change order: no second fee, no second access, no second credit', async () => {
    const { job, root } = await soldCapacitor();
    const change = await offerChange(service, job, root, [await findWornContactor(service, job)]);
    expect(change.body.parentId).toBe(root.body.id);
    expect(change.body.declineTotalCents, 'a no to it costs nothing').toBe(0);
    // The contactor's labor of 88.07 is the dearest of the visit now, so the capacitor's 75.49 has
    // become a second task: its 15.10 come off here. 65.25 + 88.07 - 15.10 = 138.22, and 5.38 of
    // tax on 65.25: 143.60.
    expect(amounts(change)).toEqual({
      'part CON-2P-30-24': 6_525,
      'labor replace_contactor': 8_807,
      'discount earlier_second_task_discount': -1_510,
      'tax tax': 538,
    });
    assertAddsUp(change.body.options[0]);
    expect(change.body.options[0].totalCents).toBe(14_360);
    expect((await acceptQuote(service, change)).body.state).toBe('accepted');
  });

  it('costs with its quote what one quote of both would have cost, but for a cent of tax', async () => {
    const job = await arriveAtJob(service);
    const findings = [await findCapacitor(service, job), await findWornContactor(service, job)];
    const both = await draftQuote(service, job, findings);
    // 4.55 + 5.38 of tax on two papers, 9.94 on one: 20490 + 14360 = 34850.
    expect(both.body.options[0].totalCents).toBe(34_851);
  });

  it('pays for a way in of its own, and for less of a second task', async () => {
    const { job, root } = await soldCapacitor();
    const drain = await offerChange(service, job, root, [await findPluggedDrain(service, job)]);
    // As dear as the capacitor's labor, which stays whole: 75.49 - 15.10 + 25.16 indoors.
    expect(amounts(drain)).toEqual({
      'labor clear_condensate_drain': 7_549,
      'discount second_task': -1_510,
      'access indoor_unit_cabinet': 2_516,
    });
    expect(drain.body.options[0].totalCents).toBe(8_555);
  });

  it('says on its paper where the fee is and that it gives no credit of it', async () => {
    const { job, root } = await soldCapacitor();
    const change = await offerChange(service, job, root, [await findWornContactor(service, job)]);
    const fee = change.body.options[0].lines[0];
    expect(fee).toMatchObject({ kind: 'visit_fee', amountCents: 0 });
    expect(fee.why.sentence).toBe(`No visit fee: charged with quote ${root.body.number}.`);
    const [about] = (await paperOf(change)).legalTexts;
    expect(about.title).toBe(`Change order to quote ${root.body.number}`);
    expect(about.text).toContain('this change order gives none and takes none back');
  });

  it('of a reset alone is priced at its materials, and is called a reset', async () => {
    const { job, root } = await soldCapacitor();
    const fuse = await offerChange(service, job, root, [await findOpenFuse(service, job)]);
    // 1.35 and 0.11 of tax; neither labor nor the way in.
    expect(amounts(fuse)).toEqual({ 'part FUSE-3A': 135, 'tax tax': 11 });
    expect(fuse.body.options[0].title).toBe('Replace the control fuse');
    const breaker = await offerChange(service, job, root, [await findTrippedBreaker(service, job)]);
    expect(breaker.body.options[0].totalCents).toBe(0);
    expect((await acceptQuote(service, breaker)).body.state).toBe('accepted');
  });

  it('of a reset that was accepted opens no way that the next one would have free', async () => {
    const { job, root } = await soldCapacitor();
    const fuse = await offerChange(service, job, root, [await findOpenFuse(service, job)]);
    await acceptQuote(service, fuse);
    const drain = await draftChange(service, job, root, [await findPluggedDrain(service, job)]);
    expect(amounts(drain)['access indoor_unit_cabinet']).toBe(2_516);
  });
});

describe('a change order hangs on an accepted quote of its ticket', () => {
  it('and on nothing else', async () => {
    const { job, root } = await soldCapacitor();
    const contactor = await findWornContactor(service, job);
    const change = await offerChange(service, job, root, [contactor]);
    await acceptQuote(service, change);
    const drain = await findPluggedDrain(service, job);
    const ofChange = await sendChange(service, job, change, [drain]);
    expect(expectProblem(ofChange, 'not-allowed-now').body.detail).toContain('is a change order');

    const open = await arriveAtJob(service);
    const issued = await issueQuote(service, await draftQuote(service, open, []));
    const ofIssued = await sendChange(service, open, issued, []);
    expect(expectProblem(ofIssued, 'not-allowed-now').body.detail).toContain('not accepted');

    const ofOther = await sendChange(service, open, root, []);
    expect(expectProblem(ofOther, 'unknown-reference').body.errors[0].pointer).toBe(
      '/changeOrderOf',
    );
  });

  it('and a further trip that was called for has its own fee and its own quote', async () => {
    const job = await arriveAtJob(service);
    const drafted = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const issued = await issueQuote(service, drafted);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.advance(4 * 3_600_000);
    const start = service.clock.now().getTime() + 3_600_000;
    const booked = await service.as('dispatcher').post('/v1/visits', {
      ticketId: job.ticketId,
      technicianId: service.staff.technician.id,
      windowStart: new Date(start).toISOString(),
      windowEnd: new Date(start + 7_200_000).toISOString(),
      feeDisclosure: { toldFeeCents: 12_900, agreedBy: 'Winifred Ashgrove' },
    });
    let tag = expectStatus(booked, 201).headers['etag'] ?? '';
    for (const verb of ['start-travel', 'arrive']) {
      const path = `/v1/visits/${booked.body.id}/${verb}`;
      tag = (await service.as('technician').post(path, {}, { ifMatch: tag })).headers['etag'] ?? '';
    }
    // The yes to the first trip's quote comes when the second one is under way.
    const root = await acceptQuote(service, issued);
    const again = { ...job, visitId: booked.body.id };
    const refused = await sendChange(service, again, root, []);
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toContain('called for by itself');
    expect((await draftQuote(service, again, [])).body.options[0].totalCents).toBe(12_900);
  });

  it('at another visit it has no fee either, and what was opened then is opened again', async () => {
    const { job, root } = await soldCapacitor();
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    const change = await draftChange(service, back, root, [await findWornContactor(service, back)]);
    expect(amounts(change)).toMatchObject({
      'labor replace_contactor': expect.any(Number),
      'access outdoor_unit_cabinet': expect.any(Number),
    });
    expect(amounts(change)).not.toHaveProperty('visit_fee visit_fee');
    expect(amounts(change)).not.toHaveProperty('credit visit_fee_credit');
    expect(change.body.declineTotalCents).toBe(0);
  });

  it('a quote of its own from a trip back for accepted work has no fee, and says why', async () => {
    const { job } = await soldCapacitor();
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    const quote = await draftQuote(service, back, [await findPluggedDrain(service, back)]);
    expect(quote.body.options[0].lines[0].why.sentence).toBe(
      'No visit fee: coming back for accepted work has no fee.',
    );
    expect(quote.body.declineTotalCents).toBe(0);
  });
});

describe('one finding is paid once', () => {
  it('what is sold is not drafted again, unless it was put on record as not done', async () => {
    const { job, root, sold } = await soldCapacitor();
    const again = () => sendChange(service, job, root, [sold.findingId]);
    const refused = expectProblem(await again(), 'price-refused');
    expect(refused.body.errors[0].code).toBe('already_sold');
    expect(refused.body.findingId).toBe(sold.findingId);
    const notDone = { outcome: 'not_done', reason: 'No can of that rating on the van.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, notDone), 201);
    const change = expectStatus(await again(), 201);
    // Its access comes off the first bill with the work, so it is charged here; 55.20 + 75.49 +
    // 25.16 + 4.55 of tax.
    expect(change.body.options[0].totalCents).toBe(16_040);
  });

  it('what one option sells meanwhile is not issued in another', async () => {
    const { job, root } = await soldCapacitor();
    const contactor = await findWornContactor(service, job);
    const draft = await draftChange(service, job, root, [contactor]);
    const first = await offerChange(service, job, root, [contactor]);
    const second = await offerChange(service, job, root, [contactor]);
    await acceptQuote(service, first);
    const issued = await sendTo(service, draft, 'issue');
    expect(expectProblem(issued, 'price-refused').body.errors[0].code).toBe('already_sold');
    const accepted = await sendTo(service, second, 'accept', yesTo(second));
    expect(expectProblem(accepted, 'price-refused').body.errors[0].code).toBe('already_sold');
  });

  it('nor is the same can sold as the work of another finding', async () => {
    const { job, root, sold } = await soldCapacitor();
    await record(service, job, {
      readings: [
        {
          equipmentId: job.outdoorId,
          method: 'capacitance_meter_disconnected',
          point: 'capacitor_fan',
          quantity: 'capacitance',
          value: 3.1,
          unit: 'uF',
        },
      ],
    });
    const fan = (taskCode: string, partCode: string) =>
      addFinding(service, job, {
        equipmentId: job.outdoorId,
        faultCode: 'run_capacitor_fan',
        taskCode,
        parts: [{ partCode, quantity: 1 }],
      });
    const same = await fan('replace_dual_run_capacitor', 'CAP-45-5-440');
    const covered = await fan('replace_fan_run_capacitor', 'CAP-5-440');
    for (const found of [same, covered]) {
      const refused = expectProblem(await sendChange(service, job, root, [found]), 'price-refused');
      expect(refused.body.errors[0].code).toBe('already_sold');
    }
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    const afterwards = await sendChange(service, job, root, [same]);
    expect(expectProblem(afterwards, 'price-refused').body.findingId).toBe(same);
  });
});

describe('the price of a change order is that of the moment of the yes', () => {
  it('another one accepted meanwhile outdates it, as a draft and as an offer', async () => {
    const job = await arriveAtJob(service);
    const root = await sell(service, job, []);
    const capacitor = await findCapacitor(service, job);
    const contactor = await findWornContactor(service, job);
    const draft = await draftChange(service, job, root, [contactor]);
    const offered = await offerChange(service, job, root, [contactor]);
    // Each alone has to open the outdoor unit: 65.25 + 88.07 + 25.16 + 5.38.
    expect(offered.body.options[0].totalCents).toBe(18_386);
    await acceptQuote(service, await offerChange(service, job, root, [capacitor]));
    expectProblem(await sendTo(service, draft, 'issue'), 'price-outdated');
    expectProblem(await sendTo(service, offered, 'accept', yesTo(offered)), 'price-outdated');
    const options = [{ title: 'And this', findingIds: [contactor] }];
    const revised = tagged(
      expectStatus(await sendTo(service, offered, 'revise', { options }), 200),
    );
    const again = await issueQuote(service, revised);
    // It is open now, and the capacitor has become the second task: 65.25 + 88.07 - 15.10 + 5.38.
    expect(again.body.options[0].totalCents).toBe(14_360);
    await acceptQuote(service, again);
  });

  it('a no or a withdrawal changes nothing for the others', async () => {
    const { job, root } = await soldCapacitor();
    const contactor = await offerChange(service, job, root, [
      await findWornContactor(service, job),
    ]);
    const drain = await offerChange(service, job, root, [await findPluggedDrain(service, job)]);
    expectStatus(await sendTo(service, contactor, 'withdraw'), 200);
    expect((await acceptQuote(service, drain)).body.state).toBe('accepted');
  });
});

describe('the limit of an approver is one of the whole job', () => {
  it('a change order counts together with what it changes', async () => {
    const { job, root } = await soldCapacitor();
    const change = await offerChange(service, job, root, [await findWornContactor(service, job)]);
    // 204.90 and 143.60 are each below 300.00, and 348.50 together are not.
    await limitApprover(service, job.siteId, 30_000);
    const accept = (more: object) =>
      sendTo(service, change, 'accept', { ...yesTo(change), ...more });
    const refused = expectProblem(await accept({}), 'above-approval-limit');
    expect(refused.body).toMatchObject({ approverLimitCents: 30_000, totalCents: 34_850 });
    expectStatus(await accept({ beyondLimitAgreedBy: 'Orla Penhaligon' }), 200);
  });
});

describe('on a ticket that has ended', () => {
  it('nothing is drafted, revised, issued or accepted', async () => {
    const job: Job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, []);
    const withdrawn = await issueQuote(service, await draftQuote(service, job, []));
    expectStatus(await sendTo(service, withdrawn, 'withdraw'), 200);
    const expired = await issueQuote(service, await draftQuote(service, job, []));
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.advance(32 * 86_400_000);
    expectStatus(await sendClose(service, job.ticketId, { noReadingsWhy: 'Nothing done.' }), 200);
    const options = [{ title: 'More', findingIds: [] }];
    const read = await service.as('technician').get(`/v1/quotes/${expired.body.id}`);
    const stale = { body: expired.body, tag: read.headers['etag'] ?? '' };
    const answers = [
      await service.as('technician').post('/v1/quotes', { visitId: job.visitId, options }),
      await sendTo(service, draft, 'revise', { options }),
      await sendTo(service, draft, 'issue'),
      await sendTo(service, stale, 'accept', yesTo(expired)),
    ];
    for (const answer of answers) {
      expect(expectProblem(answer, 'not-allowed-now').body).toMatchObject({
        currentState: 'closed',
        allowedActions: ['reopen'],
      });
    }
  });
});

describe('whatever was priced above', () => {
  it('comes out again from its stored inputs, word for word', async () => {
    expect(await assertReprices(service)).toBeGreaterThan(30);
  });
});
