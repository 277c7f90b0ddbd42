import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { offerChange } from '../harness/change-order.ts';
import { warrantedPart } from '../harness/claims.ts';
import { chargedPlate, findLowCharge } from '../harness/findings.ts';
import { issueInvoice } from '../harness/invoice.ts';
import { addSite, arriveAtJob, type Job, outdoorPlate, yesTo } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { charge, closeTicket } from '../harness/whole-job.ts';
import {
  capacitor,
  finishVisit,
  fitCapacitor,
  type Sold,
  sell,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendPart,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

const WHY = { reason: 'The serial is of the house next door.' };
const STANDS = 'the owner corrects it with a credit memo';

function strike(path: string, who: StaffKey = 'technician') {
  return service.as(who).post(`/v1/${path}/strike`, WHY);
}

async function workAt({ visitId }: Job) {
  return expectStatus(await service.as('technician').get(`/v1/visits/${visitId}/work`), 200).body;
}

/** What would be billed for a closed job. */
async function draftOf({ ticketId }: Job) {
  const owner = service.as('owner');
  const drafts = expectStatus(await owner.get(`/v1/invoices?ticketId=${ticketId}`), 200);
  return expectStatus(await owner.get(`/v1/invoices/${drafts.body.items[0].id}`), 200).body;
}

async function usedAt(job: Job, change: object = {}) {
  const sold = await sellCapacitor(service, job);
  const use = expectStatus(await sendPart(service, job.visitId, sold, change), 201).body;
  return { ...sold, use };
}

describe('a part that was written down wrongly', () => {
  it('is struck out with a reason, stays readable, and makes room for the right one', async () => {
    const job = await arriveAtJob(service);
    const sold = await usedAt(job, { serial: 'A-1' });
    expect(sold.use.struck).toBeNull();
    expectProblem(await sendPart(service, job.visitId, sold, { serial: 'A-2' }), 'not-allowed-now');
    const struck = expectStatus(await strike(`part-uses/${sold.use.id}`), 200).body;
    const by = { struckAt: '2026-07-14T18:00:00.000Z', struckById: service.staff.technician.id };
    const { stock, ...record } = struck;
    expect(record).toEqual({ ...sold.use, struck: { ...WHY, ...by } });
    expect(stock).toEqual({ broughtBack: '0', whyNoMore: 'not_taken_from_stock' });
    const right = await sendPart(service, job.visitId, sold, { serial: 'A-2' });
    const { partUses } = await workAt(job);
    expect(partUses).toEqual([record, expectStatus(right, 201).body]);
  });

  it.each(['technician', 'dispatcher', 'owner'] as const)('by the %s of it', async (who) => {
    const { use } = await usedAt(await arriveAtJob(service));
    expectStatus(await strike(`part-uses/${use.id}`, who), 200);
  });

  it('once, and not by another technician', async () => {
    const { use } = await usedAt(await arriveAtJob(service));
    expectProblem(await strike(`part-uses/${use.id}`, 'second_technician'), 'not-found');
    const both = await Promise.all([
      strike(`part-uses/${use.id}`),
      strike(`part-uses/${use.id}`, 'dispatcher'),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    expectProblem(await strike(`part-uses/${use.id}`), 'already-exists');
  });

  it('is asked for again when the ticket is closed, and not billed where none went in', async () => {
    const job = await arriveAtJob(service);
    const { use, ...sold } = await usedAt(job);
    expectStatus(await strike(`part-uses/${use.id}`), 200);
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    const { quoteId, findingId } = sold;
    const { partCode, quantity } = capacitor;
    const over = { quoteId, findingId, partCode, quantity, reason: 'It was sound.' };
    const path = `/v1/visits/${job.visitId}/parts-left-over`;
    const leftOver = expectStatus(await service.as('technician').post(path, over), 201).body;
    const struckOver = await strike(`parts-left-over/${leftOver.id}`);
    expect(expectStatus(struckOver, 200).body.struck).toMatchObject(WHY);
    await finishVisit(service, job.visitId);
    const why = { noReadingsWhy: 'The house was dark.' };
    const refused = expectProblem(await sendClose(service, job.ticketId, why), 'work-not-recorded');
    expect(refused.body.missing).toMatchObject([{ what: 'part', partCode }]);
    expectStatus(await service.as('technician').post(path, over), 201);
    expectStatus(await sendClose(service, job.ticketId, why), 200);
    const drafts = await service.as('owner').get(`/v1/invoices?ticketId=${job.ticketId}`);
    const draft = await service.as('owner').get(`/v1/invoices/${drafts.body.items[0].id}`);
    const { body } = await issueInvoice(service, {
      body: expectStatus(draft, 200).body,
      tag: draft.headers['etag'] ?? '',
    });
    expect(body.documents.map(({ kind }: { kind: string }) => kind)).toEqual([
      'accepted',
      'work_not_done',
    ]);
  });

  it('no longer says that its work was done', async () => {
    const job = await arriveAtJob(service);
    const { use, ...sold } = await usedAt(job);
    const notDone = { outcome: 'not_done', reason: 'Wrong house.' };
    const refused = await sendOutcome(service, job.visitId, sold, notDone);
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toContain('strike the part out');
    expectStatus(await strike(`part-uses/${use.id}`), 200);
    expectStatus(await sendOutcome(service, job.visitId, sold, notDone), 201);
  });

  it('stands while its work is recorded as done: that is struck out first', async () => {
    const job = await arriveAtJob(service);
    const { use, ...sold } = await usedAt(job, { serial: 'A-1' });
    const done = expectStatus(await sendOutcome(service, job.visitId, sold), 201).body;
    const refused = expectProblem(await strike(`part-uses/${use.id}`), 'not-allowed-now').body;
    expect(refused).toMatchObject({ currentState: 'done', workOutcomeId: done.id });
    expect(refused.detail).toContain('Strike out first that it was done');
    expectStatus(await strike(`work-outcomes/${done.id}`), 200);
    expectStatus(await strike(`part-uses/${use.id}`), 200);
    await fitCapacitor(service, job.visitId, sold);
    await closeTicket(service, job);
    expect((await draftOf(job)).totalCents).toBe(sold.quote.body.acceptance.totalCents);
  });

  it('stands once the ticket is closed, and the refusal says what to do instead', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await fitCapacitor(service, job.visitId, sold);
    const { partUses } = await workAt(job);
    await closeTicket(service, job);
    const refused = await strike(`part-uses/${partUses[0].id}`, 'owner');
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toContain(STANDS);
    expect((await workAt(job)).partUses).toEqual(partUses);
  });

  it('is either claimed from its maker or struck out, also in the same moment', async () => {
    const [claimed, struck, both] = [
      await warrantedPart(service),
      await warrantedPart(service),
      await warrantedPart(service),
    ];
    const claim = (id: string) => service.as('dispatcher').post(`/v1/part-uses/${id}/claim`);
    expectStatus(await claim(claimed), 201);
    const refused = expectProblem(await strike(`part-uses/${claimed}`), 'not-allowed-now');
    expect(refused.body.detail).toContain('Withdraw the claim first');
    expectStatus(await strike(`part-uses/${struck}`), 200);
    expectProblem(await claim(struck), 'not-allowed-now');
    const answers = await Promise.all([claim(both), strike(`part-uses/${both}`)]);
    expect(answers.filter(({ status }) => status < 300)).toHaveLength(1);
  });
});

describe('work that was written down wrongly', () => {
  const notDone = { outcome: 'not_done', reason: 'The wrong house.' };

  async function saidAt(job: Job, change: object = {}) {
    const sold = await sellCapacitor(service, job);
    const said = expectStatus(await sendOutcome(service, job.visitId, sold, change), 201).body;
    return { ...sold, said };
  }

  it('is struck out with a reason, stays readable, and is said again', async () => {
    const job = await arriveAtJob(service);
    const { said, ...sold } = await saidAt(job);
    const twice = expectProblem(await sendOutcome(service, job.visitId, sold), 'already-exists');
    expect(twice.body).toMatchObject({ workOutcomeId: said.id });
    const struck = expectStatus(await strike(`work-outcomes/${said.id}`), 200).body;
    const by = { struckAt: '2026-07-14T18:00:00.000Z', struckById: service.staff.technician.id };
    expect(struck).toEqual({ ...said, struck: { ...WHY, ...by } });
    const right = await sendOutcome(service, job.visitId, sold, notDone);
    const both = [struck, expectStatus(right, 201).body];
    const { outcomes } = await workAt(job);
    expect(outcomes).toHaveLength(2);
    expect(outcomes).toEqual(expect.arrayContaining(both));
    expectProblem(await strike(`work-outcomes/${said.id}`), 'already-exists');
    expectProblem(await strike(`work-outcomes/${said.id}`, 'second_technician'), 'not-found');
  });

  it('is neither billed nor warranted: what was never done costs the visit, and is sold another day', async () => {
    const site = await addSite(service);
    const job = await arriveAtJob(service, site);
    const { use, ...sold } = await usedAt(job);
    const done = expectStatus(await sendOutcome(service, job.visitId, sold), 201).body;
    expectStatus(await strike(`work-outcomes/${done.id}`), 200);
    expectStatus(await strike(`part-uses/${use.id}`), 200);
    expectStatus(await sendOutcome(service, job.visitId, sold, notDone), 201);
    await closeTicket(service, job);
    expect(await draftOf(job)).toMatchObject({
      documents: [{ kind: 'visit_fee' }],
      totalCents: sold.quote.body.declineTotalCents,
    });
    service.clock.set('2026-07-15T18:00:00Z');
    const again = await arriveAtJob(service, site);
    const next = await sellCapacitor(service, again);
    const { options } = next.quote.body;
    expect(options[0].totalCents).toBe(sold.quote.body.options[0].totalCents);
  });

  it('is asked for again when the ticket is closed', async () => {
    const job = await arriveAtJob(service);
    const { said, findingId } = await saidAt(job, notDone);
    expectStatus(await strike(`work-outcomes/${said.id}`), 200);
    await finishVisit(service, job.visitId);
    const closed = await sendClose(service, job.ticketId, { noReadingsWhy: 'Dark.' });
    const { missing } = expectProblem(closed, 'work-not-recorded').body;
    expect(missing).toMatchObject([{ what: 'outcome', findingId }]);
  });

  it('stands once the ticket is closed', async () => {
    const job = await arriveAtJob(service);
    const { said } = await saidAt(job, notDone);
    await closeTicket(service, job);
    const refused = await strike(`work-outcomes/${said.id}`, 'owner');
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toContain(STANDS);
  });

  it('stands as not done where something was accepted since, which is priced by it', async () => {
    const job = await arriveAtJob(service);
    const { said, findingId, quote } = await saidAt(job, notDone);
    const change = await offerChange(service, job, quote, [findingId]);
    const path = `/v1/quotes/${change.body.id}/accept`;
    const yes = await service.as('technician').post(path, yesTo(change), { ifMatch: change.tag });
    expectStatus(yes, 200);
    const refused = expectProblem(await strike(`work-outcomes/${said.id}`), 'not-allowed-now');
    expect(refused.body.detail).toContain(`Quote ${change.body.number} was accepted since`);
  });

  it('is said once, by whoever of two comes first', async () => {
    const job = await arriveAtJob(service);
    const { said, ...sold } = await saidAt(job);
    expectStatus(await strike(`work-outcomes/${said.id}`), 200);
    const both = await Promise.all([
      sendOutcome(service, job.visitId, sold),
      sendOutcome(service, job.visitId, sold, notDone),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([201, 409]);
  });
});

describe('a part that was claimed from its maker', () => {
  const happenedOn = '2026-07-14';
  const steps = {
    send: { registration: 'REG-1', oldPart: 'returned', happenedOn },
    withdraw: { reason: 'Of another house.', happenedOn },
    credit: { amountCents: 2_175, reference: 'CM-1', happenedOn },
    refuse: { reason: 'Too late.', happenedOn },
  } as const;

  async function claimed(...verbs: (keyof typeof steps)[]): Promise<string> {
    const use = await warrantedPart(service);
    const office = service.as('dispatcher');
    let claim = expectStatus(await office.post(`/v1/part-uses/${use}/claim`), 201);
    for (const verb of verbs) {
      const ifMatch = claim.headers['etag'] ?? '';
      const path = `/v1/claims/${claim.body.id}/${verb}`;
      claim = expectStatus(await office.post(path, steps[verb], { ifMatch }), 200);
    }
    return use;
  }

  it.each([['withdraw'], ['send', 'refuse']] as const)(
    'is struck out once nothing is asked of the maker: %s %s',
    async (...verbs) => {
      expectStatus(await strike(`part-uses/${await claimed(...verbs)}`), 200);
    },
  );

  it.each([['send'], ['send', 'credit']] as const)(
    'stands while the maker has the claim, or has credited it: %s %s',
    async (...verbs) => {
      expectProblem(await strike(`part-uses/${await claimed(...verbs)}`), 'not-allowed-now');
    },
  );
});

describe('a part that did not go in after all lies where it was taken from again', () => {
  const { partCode } = capacitor;

  async function place(): Promise<string> {
    const body = { name: `Shelves ${crypto.randomUUID()}`, kind: 'shelves' };
    return expectStatus(await service.as('dispatcher').post('/v1/stock-places', body), 201).body.id;
  }

  /** A new capacitor, recorded at the desk as taken from there. */
  async function takeFrom(stockPlaceId: string, { visitId }: Job, sold: Sold): Promise<string> {
    const { quoteId, findingId } = sold;
    const body = { quoteId, findingId, ...capacitor, stockPlaceId };
    const path = `/v1/visits/${visitId}/part-uses`;
    return expectStatus(await service.as('dispatcher').post(path, body), 201).body.id;
  }

  async function movesAt(placeId: string): Promise<string[]> {
    const path = `/v1/stock-places/${placeId}/moves`;
    const { items } = expectStatus(await service.as('dispatcher').get(path), 200).body;
    return items.map(
      ({ kind, quantity }: { kind: string; quantity: string }) => `${kind} ${quantity}`,
    );
  }

  /** Moves one by hand, for a visit. */
  async function byHand(verb: 'use' | 'bring-back', placeId: string, { visitId }: Job) {
    const path = `/v1/stock-places/${placeId}/${verb}`;
    const one = { visitId, partCode, quantity: '1' };
    expectStatus(await service.as('dispatcher').post(path, one), 201);
  }

  async function count(placeId: string, counted: string): Promise<void> {
    const path = `/v1/stock-places/${placeId}/count`;
    const body = { partCode, counted, reason: 'Evening count.' };
    expectStatus(await service.as('dispatcher').post(path, body), 201);
  }

  async function strikeUse(id: string): Promise<{ broughtBack: string; whyNoMore: string | null }> {
    return expectStatus(await strike(`part-uses/${id}`, 'dispatcher'), 200).body.stock;
  }

  const ALL = { broughtBack: '1', whyNoMore: null };
  const BACK_ALREADY = { broughtBack: '0', whyNoMore: 'back_already' };
  const COUNTED = { broughtBack: '0', whyNoMore: 'counted_since' };
  const OUT_AND_BACK = ['used -1', 'brought_back 1'];

  it('once: not again where somebody brought it back by hand', async () => {
    const from = await place();
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const useId = await takeFrom(from, job, sold);
    expect(await strikeUse(useId)).toEqual(ALL);
    expect(await movesAt(from)).toEqual(OUT_AND_BACK);
    const againId = await takeFrom(from, job, sold);
    await byHand('bring-back', from, job);
    expect(await strikeUse(againId)).toEqual(BACK_ALREADY);
    expect(await movesAt(from)).toEqual([...OUT_AND_BACK, ...OUT_AND_BACK]);
  });

  it('whatever was taken by hand for the same visit elsewhere', async () => {
    const [from, elsewhere] = [await place(), await place()];
    const job = await arriveAtJob(service);
    const useId = await takeFrom(from, job, await sellCapacitor(service, job));
    await byHand('bring-back', from, job);
    await byHand('use', elsewhere, job);
    expect(await strikeUse(useId)).toEqual(BACK_ALREADY);
    expect(await movesAt(from)).toEqual(OUT_AND_BACK);
    expect(await movesAt(elsewhere)).toEqual(['used -1']);
  });

  it('and not where it was brought back to another place', async () => {
    const [from, elsewhere] = [await place(), await place()];
    const job = await arriveAtJob(service);
    const useId = await takeFrom(from, job, await sellCapacitor(service, job));
    await byHand('bring-back', elsewhere, job);
    expect(await strikeUse(useId)).toEqual(BACK_ALREADY);
    expect(await movesAt(from)).toEqual(['used -1']);
  });

  it('while what was taken there by hand stays taken', async () => {
    const from = await place();
    const job = await arriveAtJob(service);
    const useId = await takeFrom(from, job, await sellCapacitor(service, job));
    await byHand('use', from, job);
    expect(await strikeUse(useId)).toEqual(ALL);
    expect(await movesAt(from)).toEqual(['used -1', 'used -1', 'brought_back 1']);
  });

  it('unless the place was counted since, for then it was counted', async () => {
    const from = await place();
    const job = await arriveAtJob(service);
    await count(from, '5');
    const sold = await sellCapacitor(service, job);
    const useId = await takeFrom(from, job, sold);
    await count(from, '5');
    expect(await strikeUse(useId)).toEqual(COUNTED);
    const moves = ['counted 5', 'used -1', 'counted 1'];
    expect(await movesAt(from)).toEqual(moves);
    const againId = await takeFrom(from, job, sold);
    await byHand('bring-back', from, job);
    expect(await strikeUse(againId)).toEqual(BACK_ALREADY);
    expect(await movesAt(from)).toEqual([...moves, ...OUT_AND_BACK]);
  });
});

describe('refrigerant that was written down wrongly', () => {
  async function lowCharge(): Promise<{ job: Job; quoteId: string; findingId: string }> {
    const nameplate = { ...outdoorPlate, ...chargedPlate };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    const findingId = await findLowCharge(service, job);
    const quote = await sell(service, job, [findingId]);
    return { job, quoteId: quote.body.id, findingId };
  }

  const refrigerant = { partCode: 'REF-R-410A', quantity: undefined, oldPart: 'none' };

  it('is struck out, and may then be weighed the same again', async () => {
    const { job } = await lowCharge();
    await charge(service, job, 36);
    const [move] = (await workAt(job)).refrigerantMoves;
    const struck = expectStatus(await strike(`refrigerant-moves/${move.id}`), 200).body;
    expect(struck).toMatchObject({ ...move, struck: WHY });
    await charge(service, job, 36);
    expect((await workAt(job)).refrigerantMoves).toMatchObject([struck, { struck: null }]);
  });

  it('keeps a weighing for what is recorded as used: the right one comes first', async () => {
    const { job, ...sold } = await lowCharge();
    await charge(service, job, 24);
    const use = { ...refrigerant, measured: '1.5' };
    expectStatus(await sendPart(service, job.visitId, sold, use), 201);
    const [wrong] = (await workAt(job)).refrigerantMoves;
    const refused = expectProblem(await strike(`refrigerant-moves/${wrong.id}`), 'not-allowed-now');
    expect(refused.body).toMatchObject({ chargedOz: '0', usedOz: '24' });
    await charge(service, job, 25);
    expectStatus(await strike(`refrigerant-moves/${wrong.id}`), 200);
  });

  it('counts nowhere: what it weighed is missing at the closing', async () => {
    const { job, ...sold } = await lowCharge();
    await charge(service, job, 36);
    const [move] = (await workAt(job)).refrigerantMoves;
    expectStatus(await strike(`refrigerant-moves/${move.id}`), 200);
    const use = { ...refrigerant, measured: '2.25' };
    const refused = await sendPart(service, job.visitId, sold, use);
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({ chargedOz: '0' });
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    await finishVisit(service, job.visitId);
    const closed = await sendClose(service, job.ticketId, { noReadingsWhy: 'Dark.' });
    const { missing } = expectProblem(closed, 'work-not-recorded').body;
    expect(missing).toMatchObject([{ what: 'part' }, { what: 'refrigerant' }]);
  });
});
