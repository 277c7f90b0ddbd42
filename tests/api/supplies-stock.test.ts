import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ProblemSlug } from '../../src/platform/http/problem-catalog.ts';
import { arriveAtJob, bookJob, type Job } from '../harness/job.ts';
import { billOf, levelAt, openShop, type Shop, suppliedBook } from '../harness/shop.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const CAPACITOR = 'CAP-45-5-440';
const REFRIGERANT = 'REF-R-410A';

let service: TestService;
let shop: Shop;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
  shop = await openShop(service);
  job = await arriveAtJob(service);
});
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');
const technician = () => service.as('technician');
const at = (placeId: string, verb: string) => `/v1/stock-places/${placeId}/${verb}`;
const use = (placeId: string, body: object, who: 'technician' | 'owner' = 'technician') =>
  service.as(who).post(at(placeId, 'use'), {
    visitId: job.visitId,
    partCode: CAPACITOR,
    quantity: '1',
    ...body,
  });

async function bring(placeId: string, partCode: string, quantity: string): Promise<void> {
  const amountCents = quantity.startsWith('-') ? -1_000 : 1_000;
  const bill = billOf(placeId, { partCode, quantity, amountCents });
  expectStatus(await dispatcher().post('/v1/supplier-bills', bill), 201);
}

describe('places', () => {
  const place = (id: string) => `/v1/stock-places/${id}`;

  it('are listed with the number of parts that have fallen below zero', async () => {
    const { body } = expectStatus(await dispatcher().get('/v1/stock-places'), 200);
    expect(body.items).toMatchObject([
      { id: shop.shelvesId, name: 'Shelves', kind: 'shelves', technicianId: null },
      { id: shop.truckId, kind: 'truck', technicianId: service.staff.technician.id },
      { id: shop.otherTruckId, kind: 'truck' },
    ]);
  });

  it.each<[string, { kind?: string; name?: string; technicianId?: string }, ProblemSlug]>([
    ['a name that is taken', { name: 'Shelves', kind: 'shelves' }, 'already-exists'],
    [
      'shelves of a technician',
      { kind: 'shelves', technicianId: 'technician' },
      'validation-failed',
    ],
    ['a second truck of a technician', { technicianId: 'technician' }, 'already-exists'],
    ['a truck of somebody in the office', { technicianId: 'dispatcher' }, 'unknown-reference'],
    ['a truck of nobody we know', { technicianId: randomUUID() }, 'unknown-reference'],
    ['an unknown kind', { kind: 'boat' }, 'validation-failed'],
  ])('with %s are refused', async (_, change, slug) => {
    const key = change.technicianId;
    const known = key === 'technician' || key === 'dispatcher' ? service.staff[key].id : key;
    const added = await dispatcher().post('/v1/stock-places', {
      name: 'Another',
      kind: 'truck',
      ...change,
      ...(known !== undefined && { technicianId: known }),
    });
    expectProblem(added, slug);
  });

  it('are changed as they were last read, and it is on record', async () => {
    const added = await dispatcher().post('/v1/stock-places', { name: 'Truck 3', kind: 'truck' });
    const path = place(expectStatus(added, 201).body.id);
    const ifMatch = added.headers['etag'] ?? '';
    const changed = await dispatcher().patch(path, { name: 'Van' }, { ifMatch });
    expect((await dispatcher().get(path)).headers['etag']).toBe(
      expectStatus(changed, 200).headers['etag'],
    );
    const late = await dispatcher().patch(path, { name: 'Old van' }, { ifMatch });
    expectProblem(late, 'version-changed');
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${added.body.id}`);
    expect(journal.body.items).toMatchObject([
      { event: 'stock_place.added' },
      { event: 'stock_place.changed', changes: { before: { name: 'Truck 3' } } },
    ]);
  });

  it('are not changed by what lies there: whoever renames a truck is not stopped', async () => {
    const path = place(shop.otherTruckId);
    const before = await dispatcher().get(path);
    const ifMatch = before.headers['etag'] ?? '';
    await bring(shop.otherTruckId, 'TRF-40', '-1');
    const listed = await dispatcher().get('/v1/stock-places');
    expect(listed.body.items[2]).toMatchObject({ id: shop.otherTruckId, partsBelowZero: 1 });
    // The tag says that the answer is the same, so it has to be the same in every word.
    const after = await dispatcher().get(path);
    expect([after.headers['etag'], after.body]).toEqual([ifMatch, before.body]);
    const name = before.body.name;
    expectStatus(await dispatcher().patch(path, { name }, { ifMatch }), 200);
    await bring(shop.otherTruckId, 'TRF-40', '1');
  });

  it('keep what is not given; shelves never become a technician’s', async () => {
    const read = async (id: string) => (await dispatcher().get(place(id))).headers['etag'] ?? '';
    const [shelves, truck] = [await read(shop.shelvesId), await read(shop.otherTruckId)];
    const { id: technicianId } = service.staff.technician;
    const given = await dispatcher().patch(
      place(shop.shelvesId),
      { technicianId },
      { ifMatch: shelves },
    );
    expectProblem(given, 'validation-failed');
    const taken = await dispatcher().patch(
      place(shop.otherTruckId),
      { technicianId },
      { ifMatch: truck },
    );
    expectProblem(taken, 'already-exists');
    const renamed = await dispatcher().patch(
      place(shop.otherTruckId),
      { name: 'Truck two' },
      { ifMatch: truck },
    );
    const { id } = service.staff.second_technician;
    expect(expectStatus(renamed, 200).body).toMatchObject({ name: 'Truck two', technicianId: id });
    const freed = await dispatcher().patch(
      place(shop.otherTruckId),
      { technicianId: null },
      { ifMatch: renamed.headers['etag'] ?? '' },
    );
    expect(expectStatus(freed, 200).body).toMatchObject({ technicianId: null });
    const back = { technicianId: id };
    const ifMatch = freed.headers['etag'] ?? '';
    expectStatus(await dispatcher().patch(place(shop.otherTruckId), back, { ifMatch }), 200);
  });
});

describe('a technician in an attic', () => {
  it('takes a part from the own truck for the visit, and it is on record', async () => {
    await bring(shop.truckId, CAPACITOR, '5');
    const used = expectStatus(await use(shop.truckId, { quantity: '2' }), 201);
    expect(used.body).toMatchObject({
      move: {
        placeId: shop.truckId,
        partCode: CAPACITOR,
        quantity: '-2',
        kind: 'used',
        visitId: job.visitId,
        movedAt: '2026-07-14T18:00:00.000Z',
        recordedById: service.staff.technician.id,
      },
      level: '3',
    });
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${used.body.move.id}`);
    expect(journal.body.items).toMatchObject([
      { event: 'stock.moved', changes: { after: { partCode: CAPACITOR, quantity: '-2' } } },
    ]);
  });

  it('is never stopped by a count that was wrong: the level falls below zero and is listed', async () => {
    const used = await use(shop.truckId, { partCode: REFRIGERANT, quantity: '2.125' });
    expect(expectStatus(used, 201).body.level).toBe('-2.125');
    const below = await technician().get(`${at(shop.truckId, 'stock')}?only=below_zero`);
    expect(below.body.items).toMatchObject([
      { partCode: REFRIGERANT, unit: '[lb_av]', level: '-2.125', target: null },
    ]);
    const places = await dispatcher().get('/v1/stock-places');
    expect(places.body.items[1]).toMatchObject({ id: shop.truckId, partsBelowZero: 1 });
  });

  it('brings back what was not needed, and no more than was taken for the visit', async () => {
    const visit = await arriveAtJob(service);
    const body = { visitId: visit.visitId, partCode: 'FLOAT-1', quantity: '2' };
    const back = (quantity: string) =>
      technician().post(at(shop.truckId, 'bring-back'), { ...body, quantity });
    expectProblem(await back('1'), 'validation-failed');
    expectStatus(await technician().post(at(shop.truckId, 'use'), body), 201);
    expectProblem(await back('3'), 'validation-failed');
    expect(expectStatus(await back('1'), 201).body).toMatchObject({
      move: { kind: 'brought_back', quantity: '1', visitId: visit.visitId },
      level: '-1',
    });
    const refused = expectProblem(await back('2'), 'validation-failed');
    expect(refused.body.errors).toMatchObject([
      { pointer: '/quantity', message: expect.stringContaining('the 1 still recorded') },
    ]);
    expectStatus(await back('1'), 201);
  });

  it('records what was used after the visit too, but not before arriving', async () => {
    const visit = await bookJob(service);
    const refused = await use(shop.truckId, { visitId: visit.visitId });
    expectProblem(refused, 'not-allowed-now');
    expect(refused.body.currentState).toBe('booked');
    const done = await arriveAtJob(service);
    const finished = await technician().post(
      `/v1/visits/${done.visitId}/finish`,
      { ticketIs: 'work_complete' },
      { ifMatch: done.visitTag },
    );
    expectStatus(finished, 200);
    expectStatus(await use(shop.truckId, { visitId: done.visitId }), 201);
  });

  it.each([
    ['an unknown part', { partCode: 'CAP-99' }, 'unknown-reference', '/partCode'],
    ['an unknown visit', { visitId: randomUUID() }, 'unknown-reference', '/visitId'],
    ['half a piece', { quantity: '0.5' }, 'validation-failed', '/quantity'],
    [
      'a fourth digit',
      { partCode: REFRIGERANT, quantity: '0.0005' },
      'validation-failed',
      '/quantity',
    ],
    ['nothing', { quantity: '0' }, 'validation-failed', '/quantity'],
    ['less than nothing', { quantity: '-1' }, 'validation-failed', '/quantity'],
    ['a number for decimal text', { quantity: 1 }, 'validation-failed', '/quantity'],
  ] as const)('is told of %s', async (_, change, slug, pointer) => {
    const refused = await use(shop.truckId, change);
    expectProblem(refused, slug);
    expect(refused.body.errors).toEqual([expect.objectContaining({ pointer })]);
  });

  it('has the own truck only, for whatever it is: another place is not there', async () => {
    for (const placeId of [shop.otherTruckId, shop.shelvesId, randomUUID()]) {
      const body = { visitId: job.visitId, partCode: CAPACITOR, quantity: '1' };
      const counted = { partCode: CAPACITOR, counted: '1', reason: 'Count.' };
      const answers = [
        await technician().get(`/v1/stock-places/${placeId}`),
        await technician().get(at(placeId, 'stock')),
        await technician().get(at(placeId, 'moves')),
        await technician().get(at(placeId, `targets/${CAPACITOR}`)),
        await technician().post(at(placeId, 'use'), body),
        await technician().post(at(placeId, 'bring-back'), body),
        await technician().post(at(placeId, 'count'), counted),
      ];
      for (const answer of answers) expectProblem(answer, 'not-found');
    }
    const { body } = await technician().get('/v1/stock-places');
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual([shop.truckId]);
    const foreign = await service.as('second_technician').post(at(shop.otherTruckId, 'use'), {
      visitId: job.visitId,
      partCode: CAPACITOR,
      quantity: '1',
    });
    expectProblem(foreign, 'unknown-reference');
  });

  it('is shown no cost anywhere', async () => {
    for (const path of ['', '/stock', '/moves']) {
      const answer = await technician().get(`/v1/stock-places/${shop.truckId}${path}`);
      expect(expectStatus(answer, 200).text).not.toMatch(/cents|cost|amount/i);
    }
    for (const path of ['supplier-bills', 'cost-changes', 'reorder-list', 'reorder-list/csv']) {
      expectProblem(await technician().get(`/v1/${path}`), 'forbidden');
    }
  });
});

describe('the office', () => {
  it('records for every place what was used', async () => {
    const used = await use(shop.otherTruckId, { quantity: '1' }, 'owner');
    expect(expectStatus(used, 201).body.level).toBe('-1');
  });

  it('carries from place to place: what left one came to the other', async () => {
    await bring(shop.shelvesId, REFRIGERANT, '50');
    const carried = await dispatcher().post(at(shop.shelvesId, 'carry'), {
      toPlaceId: shop.otherTruckId,
      partCode: REFRIGERANT,
      quantity: '12.5',
    });
    const { from, to } = expectStatus(carried, 201).body;
    expect(from).toMatchObject({ move: { quantity: '-12.5', kind: 'carried' }, level: '37.5' });
    expect(to).toMatchObject({ move: { quantity: '12.5', kind: 'carried' }, level: '12.5' });
    expect([from.move.otherMoveId, to.move.otherMoveId]).toEqual([to.move.id, from.move.id]);
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${to.move.id}`);
    expect(journal.body.items).toHaveLength(1);
  });

  it.each([
    ['to where it is', 'shelvesId', CAPACITOR, 'validation-failed'],
    ['to nowhere', undefined, CAPACITOR, 'unknown-reference'],
    ['of an unknown part', 'truckId', 'CAP-99', 'unknown-reference'],
  ] as const)('carries nothing %s', async (_, to, partCode, slug) => {
    const refused = await dispatcher().post(at(shop.shelvesId, 'carry'), {
      toPlaceId: to === undefined ? randomUUID() : shop[to],
      partCode,
      quantity: '1',
    });
    expectProblem(refused, slug);
  });
});

describe('a count', () => {
  const count = (counted: string, partCode = 'CON-2P-30-24') =>
    technician().post(at(shop.truckId, 'count'), { partCode, counted, reason: 'Monday count.' });

  it('makes of its difference a move with a reason, and of none no move', async () => {
    expect(expectStatus(await count('4'), 201).body).toMatchObject({
      move: { kind: 'counted', quantity: '4', reason: 'Monday count.' },
      level: '4',
    });
    expect(expectStatus(await count('1'), 201).body).toMatchObject({
      move: { quantity: '-3' },
      level: '1',
    });
    expect(expectStatus(await count('1'), 201).body).toEqual({ move: null, level: '1' });
    const moves = await technician().get(`${at(shop.truckId, 'moves')}?partCode=CON-2P-30-24`);
    expect(moves.body.items).toHaveLength(2);
  });

  it.each(['-1', '1.5', 'many'])('of %s pieces is refused', async (counted) => {
    const refused = expectProblem(await count(counted), 'validation-failed');
    expect(refused.body.errors).toMatchObject([{ pointer: '/counted' }]);
  });

  it('without a reason is refused', async () => {
    const given = { partCode: CAPACITOR, counted: '1', reason: ' ' };
    const refused = await technician().post(at(shop.truckId, 'count'), given);
    expectProblem(refused, 'validation-failed');
  });
});

describe('targets', () => {
  const targets = () => at(shop.truckId, 'targets');
  const wanted = { partCode: 'DRIER-3', reorderAt: '1', orderUpTo: '4' };

  it('stand beside the stock, also of what never came', async () => {
    const added = expectStatus(await dispatcher().post(targets(), wanted), 201);
    expect(added.body).toEqual({ ...wanted, version: 1 });
    expectProblem(await dispatcher().post(targets(), wanted), 'already-exists');
    const stock = await technician().get(`${at(shop.truckId, 'stock')}?limit=100`);
    expect(stock.body.items).toContainEqual({
      partCode: 'DRIER-3',
      name: 'Filter drier, 3/8',
      unit: null,
      level: '0',
      target: { reorderAt: '1', orderUpTo: '4', version: 1 },
    });
  });

  it('are changed by one of two who read the same version', async () => {
    const part = { ...wanted, partCode: 'PUMP-1' };
    const added = expectStatus(await dispatcher().post(targets(), part), 201);
    const path = `${targets()}/PUMP-1`;
    expect(added.headers['location']).toBe(path);
    const read = await dispatcher().get(path);
    expect(read.headers['etag']).toBe(added.headers['etag']);
    const change = { reorderAt: '2', orderUpTo: '6' };
    const ifMatch = read.headers['etag'] ?? '';
    const both = await Promise.all(
      [change, change].map((body) => dispatcher().patch(path, body, { ifMatch })),
    );
    expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
    expect((await dispatcher().get(path)).body).toEqual({
      partCode: 'PUMP-1',
      ...change,
      version: 2,
    });
    expectProblem(await dispatcher().patch(path, change), 'precondition-required');
    const journal = await service
      .as('owner')
      .get(`/v1/journal?subjectId=${shop.truckId}&order=newest&limit=1`);
    expect(journal.body.items).toMatchObject([
      {
        event: 'stock_target.set',
        changes: { before: { reorderAt: '1' }, after: { partCode: 'PUMP-1', reorderAt: '2' } },
      },
    ]);
  });

  it.each([
    ['an order up to no more than the reorder point', { orderUpTo: '1' }, 'validation-failed'],
    ['half a piece', { reorderAt: '0.5' }, 'validation-failed'],
    ['less than nothing', { reorderAt: '-1' }, 'validation-failed'],
    ['a part nobody knows', { partCode: 'X-1' }, 'unknown-reference'],
  ] as const)('with %s are refused', async (_, change, slug) => {
    const target = { ...wanted, partCode: 'PAN-30', ...change };
    expectProblem(await dispatcher().post(targets(), target), slug);
  });

  it('end by one of two who read the same version; what lies there stays', async () => {
    const part = { ...wanted, partCode: 'PAN-30' };
    const added = expectStatus(await dispatcher().post(targets(), part), 201);
    const path = `${targets()}/PAN-30`;
    const ifMatch = added.headers['etag'] ?? '';
    await bring(shop.truckId, 'PAN-30', '3');
    expectProblem(await technician().post(`${path}/end`, {}, { ifMatch }), 'forbidden');
    expectProblem(await dispatcher().post(`${path}/end`, {}), 'precondition-required');
    expectProblem(
      await dispatcher().post(`${path}/end`, {}, { ifMatch: '"9"' }),
      'version-changed',
    );
    const both = await Promise.all(
      [1, 2].map(() => dispatcher().post(`${path}/end`, {}, { ifMatch })),
    );
    expect(both.map(({ status }) => status).sort()).toEqual([200, 404]);
    expect(both.find(({ status }) => status === 200)?.body).toEqual({ ...part, version: 1 });
    expectProblem(await dispatcher().get(path), 'not-found');
    expect(await levelAt(service, shop.truckId, 'PAN-30')).toBe('3');
    const journal = await service
      .as('owner')
      .get(`/v1/journal?subjectId=${shop.truckId}&order=newest&limit=1`);
    expect(journal.body.items).toMatchObject([
      { event: 'stock_target.ended', changes: { before: part } },
    ]);
    expectStatus(await dispatcher().post(targets(), part), 201);
  });

  it('of what has none cannot be changed', async () => {
    const body = { reorderAt: '1', orderUpTo: '2' };
    const path = `${targets()}/BAT-2`;
    expectProblem(await dispatcher().patch(path, body, { ifMatch: '*' }), 'not-found');
    expectProblem(await dispatcher().post(`${path}/end`, {}, { ifMatch: '*' }), 'not-found');
    expectProblem(await dispatcher().get(path), 'not-found');
  });
});

describe('what lies at a place and what moved there', () => {
  it('go page by page', async () => {
    const names = async (list: string, key: string, limit: number): Promise<string[]> => {
      const found: string[] = [];
      let cursor = '';
      for (;;) {
        const path = `${at(shop.truckId, list)}?limit=${limit}${cursor}`;
        const { body } = expectStatus(await technician().get(path), 200);
        found.push(...body.items.map((item: Record<string, string>) => item[key]));
        if (body.nextCursor === null) return found;
        cursor = `&cursor=${body.nextCursor}`;
      }
    };
    for (const [list, key] of [
      ['stock', 'partCode'],
      ['moves', 'id'],
    ] as const) {
      const all = await names(list, key, 100);
      expect(all.length).toBeGreaterThan(4);
      expect(await names(list, key, 2)).toEqual(all);
    }
  });

  it('keep a part that has left the book: it still lies there, and can be used', async () => {
    await bring(shop.truckId, 'SEN-10K', '2');
    const parts = suppliedBook.parts.filter(({ code }) => code !== 'SEN-10K');
    const next = { ...suppliedBook, effectiveFrom: '2026-03-01T00:00:00Z', parts };
    expectStatus(await service.as('owner').post('/v1/price-books', next), 201);
    expectStatus(await use(shop.truckId, { partCode: 'SEN-10K' }), 201);
    expectProblem(
      await use(shop.truckId, { partCode: 'SEN-10K', quantity: '0.5' }),
      'validation-failed',
    );
    expect(await levelAt(service, shop.truckId, 'SEN-10K')).toBe('1');
    const billed = billOf(shop.truckId, { partCode: 'SEN-10K', quantity: '1', amountCents: 900 });
    expectProblem(await dispatcher().post('/v1/supplier-bills', billed), 'unknown-reference');
  });
});
