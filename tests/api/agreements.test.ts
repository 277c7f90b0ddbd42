import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { addSite, bookJob } from '../harness/job.ts';
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

const dispatcher = () => service.as('dispatcher');

const year = {
  planCode: 'two_visits',
  startsOn: '2026-01-01',
  endsOn: '2027-01-01',
  agreedByName: 'Winifred Ashgrove',
};

async function add(siteId: string, change: object = {}) {
  const added = await dispatcher().post(`/v1/sites/${siteId}/agreements`, { ...year, ...change });
  expectStatus(added, 201);
  return {
    body: added.body,
    tag: added.headers['etag'] ?? '',
    path: `/v1/agreements/${added.body.id}`,
  };
}

async function refused(siteId: string, change: object) {
  return dispatcher().post(`/v1/sites/${siteId}/agreements`, { ...year, ...change });
}

async function days(siteId: string): Promise<string[]> {
  const list = await service.as('owner').get(`/v1/sites/${siteId}/agreements`);
  return expectStatus(list, 200).body.items.map(
    (each: { startsOn: string; endsOn: string }) => `${each.startsOn}/${each.endsOn}`,
  );
}

describe('a site under a maintenance agreement', () => {
  it('has its plan, its days and who said yes, and the journal says who put it there', async () => {
    const { siteId } = await addSite(service);
    const added = await dispatcher().post(`/v1/sites/${siteId}/agreements`, year);
    expect(expectStatus(added, 201).body).toMatchObject({ siteId, ...year, version: 1 });
    expect(added.headers['location']).toBe(`/v1/agreements/${added.body.id}`);
    const read = await dispatcher().get(`/v1/agreements/${added.body.id}`);
    expect([read.body, read.headers['etag']]).toEqual([added.body, added.headers['etag']]);
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${added.body.id}`);
    const { agreedByName: _, ...terms } = year;
    expect(journal.body.items).toMatchObject([
      {
        event: 'agreement.added',
        actorId: service.staff.dispatcher.id,
        changes: { after: { siteId, ...terms } },
      },
    ]);
    expect(JSON.stringify(journal.body)).not.toContain('Winifred');
  });

  it('is under a plan of the price book in force, and a wrong one names the right ones', async () => {
    const { siteId } = await addSite(service);
    const wrong = expectProblem(
      await refused(siteId, { planCode: 'ten_visits' }),
      'unknown-reference',
    );
    expect(wrong.body.detail).toBe(
      'The price book in force has no such plan. ' +
        'It offers one_visit (One visit a year), two_visits (Two visits a year).',
    );
    expect(wrong.body.errors).toMatchObject([{ pointer: '/planCode' }]);
    expect(await days(siteId)).toEqual([]);
  });

  it('needs a site that is there, and holds for a day at least', async () => {
    expectProblem(await refused('019f61c9-2500-7000-b04b-a31a8629189c', {}), 'not-found');
    const { siteId } = await addSite(service);
    for (const endsOn of ['2026-01-01', '2025-12-31', '2027-02-29', 'tomorrow']) {
      const wrong = expectProblem(await refused(siteId, { endsOn }), 'validation-failed');
      expect(wrong.body.errors).toMatchObject([{ pointer: '/endsOn' }]);
    }
    await add(siteId, { endsOn: '2026-01-02' });
  });
});

describe('a site has one agreement on a day', () => {
  it.each([
    ['starts in it', { startsOn: '2026-12-31', endsOn: '2027-12-31' }],
    ['ends in it', { startsOn: '2025-01-02', endsOn: '2026-01-02' }],
    ['lies in it', { startsOn: '2026-06-01', endsOn: '2026-06-02' }],
    ['holds it', { startsOn: '2025-01-01', endsOn: '2028-01-01' }],
    ['is by another plan', { planCode: 'one_visit' }],
  ])('one that %s is refused with the days of the other', async (_, change) => {
    const { siteId } = await addSite(service);
    const { body } = await add(siteId);
    const refusal = expectProblem(await refused(siteId, change), 'agreement-overlaps').body;
    expect(refusal).toMatchObject({
      status: 409,
      detail: 'This site has an agreement from 2026-01-01 up to 2027-01-01.',
      agreementId: body.id,
      planCode: 'two_visits',
      startsOn: '2026-01-01',
      endsOn: '2027-01-01',
    });
    expect(await days(siteId)).toEqual(['2026-01-01/2027-01-01']);
  });

  it('the years before and after are free, and so is another site', async () => {
    const { siteId } = await addSite(service);
    await add(siteId);
    await add(siteId, { startsOn: '2027-01-01', endsOn: '2028-01-01' });
    await add(siteId, { startsOn: '2025-01-01', endsOn: '2026-01-01' });
    await add((await addSite(service)).siteId);
    expect((await days(siteId)).sort()).toEqual([
      '2025-01-01/2026-01-01',
      '2026-01-01/2027-01-01',
      '2027-01-01/2028-01-01',
    ]);
  });

  it('of ten that arrive together one is made, and each other is told its days', async () => {
    for (let round = 0; round < 5; round += 1) {
      const { siteId } = await addSite(service);
      const answers = await Promise.all(
        Array.from({ length: 10 }, (_, at) =>
          refused(siteId, { endsOn: `2027-01-${String(at + 10)}` }),
        ),
      );
      const [made, ...more] = answers.filter(({ status }) => status === 201);
      expect([made?.status, more]).toEqual([201, []]);
      for (const refusal of answers.filter(({ status }) => status !== 201)) {
        expect(refusal.body).toMatchObject({
          code: 'agreement-overlaps',
          agreementId: made?.body.id,
          endsOn: made?.body.endsOn,
        });
      }
      expect(await days(siteId)).toHaveLength(1);
    }
  });
});

describe('an agreement that is ended', () => {
  it('is shorter from then on, leaves its days to the next, and says so in the journal', async () => {
    const { siteId } = await addSite(service);
    const agreement = await add(siteId);
    const ended = await dispatcher().post(
      `${agreement.path}/end`,
      { endsOn: '2026-07-01' },
      { ifMatch: agreement.tag },
    );
    expect(expectStatus(ended, 200).body).toEqual({
      ...agreement.body,
      endsOn: '2026-07-01',
      version: 2,
    });
    await add(siteId, { startsOn: '2026-07-01' });
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${agreement.body.id}`);
    expect(journal.body.items.at(-1)).toMatchObject({
      event: 'agreement.ended',
      changes: { before: { endsOn: '2027-01-01' }, after: { endsOn: '2026-07-01' } },
    });
  });

  it.each([
    ['later', '2027-01-02', 'not_shorter'],
    ['on the day it ends anyway', '2027-01-01', 'not_shorter'],
    ['before it began', '2025-12-31', 'before_start'],
  ])('is not ended %s', async (_, endsOn, code) => {
    const { siteId } = await addSite(service);
    const { path, tag } = await add(siteId);
    const wrong = await dispatcher().post(`${path}/end`, { endsOn }, { ifMatch: tag });
    expect(expectProblem(wrong, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/endsOn', code },
    ]);
    expect(await days(siteId)).toEqual(['2026-01-01/2027-01-01']);
  });

  it('on its first day held on no day: another takes its place', async () => {
    const { siteId } = await addSite(service);
    const { path, tag } = await add(siteId);
    const endsOn = year.startsOn;
    expectStatus(await dispatcher().post(`${path}/end`, { endsOn }, { ifMatch: tag }), 200);
    await add(siteId, { planCode: 'one_visit' });
  });

  it('is ended by whoever was first; the other has to look again', async () => {
    const { siteId } = await addSite(service);
    const { path, tag } = await add(siteId);
    const answers = await Promise.all(
      ['2026-03-01', '2026-04-01', '2026-05-01', '2026-06-01'].map((endsOn) =>
        dispatcher().post(`${path}/end`, { endsOn }, { ifMatch: tag }),
      ),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412]);
    const done = answers.find(({ status }) => status === 200);
    expect(await days(siteId)).toEqual([`2026-01-01/${done?.body.endsOn}`]);
    const blind = await dispatcher().post(`${path}/end`, { endsOn: '2026-01-15' });
    expectProblem(blind, 'precondition-required');
  });
});

describe('who may what', () => {
  it('a technician sees the agreements of own sites, and makes and ends none', async () => {
    const place = await addSite(service);
    const technician = service.as('technician');
    const list = `/v1/sites/${place.siteId}/agreements`;
    const { path, tag, body } = await add(place.siteId);
    expectProblem(await technician.get(list), 'not-found');
    expectProblem(await technician.get(path), 'not-found');
    await bookJob(service, place);
    expect(expectStatus(await technician.get(list), 200).body.items).toEqual([body]);
    expect(expectStatus(await technician.get(path), 200).body).toEqual(body);
    expectProblem(await technician.post(list, year), 'forbidden');
    const end = { endsOn: '2026-02-01' };
    expectProblem(await technician.post(`${path}/end`, end, { ifMatch: tag }), 'forbidden');
    expectProblem(await service.as('second_technician').get(path), 'not-found');
  });

  it('the list goes page by page, and a cursor belongs to its site', async () => {
    const [{ siteId }, elsewhere] = [await addSite(service), await addSite(service)];
    for (const from of [2026, 2027, 2028]) {
      await add(siteId, { startsOn: `${from}-01-01`, endsOn: `${from + 1}-01-01` });
    }
    const list = `/v1/sites/${siteId}/agreements`;
    const first = expectStatus(await dispatcher().get(`${list}?limit=2`), 200).body;
    const rest = await dispatcher().get(`${list}?cursor=${first.nextCursor}`);
    const starts = [...first.items, ...rest.body.items].map(
      ({ startsOn }: { startsOn: string }) => startsOn,
    );
    expect(starts).toEqual(['2026-01-01', '2027-01-01', '2028-01-01']);
    const other = `/v1/sites/${elsewhere.siteId}/agreements?cursor=${first.nextCursor}`;
    expectProblem(await dispatcher().get(other), 'cursor-invalid');
  });
});

describe('before there is a price book', () => {
  it('no site is put under an agreement, and without plans none either', async () => {
    const bare = await createTestService({ withPriceBook: false });
    try {
      const { siteId } = await addSite(bare);
      const list = `/v1/sites/${siteId}/agreements`;
      expectProblem(await bare.as('dispatcher').post(list, year), 'no-price-book');
      const { agreements: _, ...planless } = priceBook;
      expectStatus(await bare.as('owner').post('/v1/price-books', planless), 201);
      const wrong = await bare.as('dispatcher').post(list, year);
      expect(expectProblem(wrong, 'unknown-reference').body.detail).toBe(
        'The price book in force offers no plan.',
      );
    } finally {
      await bare.close();
    }
  });
});

describe('the plans that can be agreed to', () => {
  it('are those of the price book in force, with what they give, for whoever sells them', async () => {
    for (const who of ['dispatcher', 'owner'] as const) {
      const { body } = expectStatus(await service.as(who).get('/v1/agreement-plans'), 200);
      const { agreements } = (await service.as('owner').get('/v1/price-books/in-force')).body;
      expect(body).toEqual({ items: agreements });
      expect(body.items).toContainEqual({
        code: 'two_visits',
        name: 'Two visits a year',
        annualPriceCents: expect.any(Number),
        visitsPerYear: 2,
        discounts: expect.any(Object),
      });
    }
    expectProblem(await service.as('technician').get('/v1/agreement-plans'), 'forbidden');
  });

  it('are none before there is a price book', async () => {
    const bookless = await createTestService({ withPriceBook: false });
    const refused = await bookless.as('dispatcher').get('/v1/agreement-plans');
    expectProblem(refused, 'no-price-book');
    await bookless.close();
  });
});
