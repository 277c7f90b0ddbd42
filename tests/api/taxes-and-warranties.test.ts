import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { findOpenFuse } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type QuoteAt,
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
afterEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(async () => {
  expect(await assertReprices(service)).toBeGreaterThan(10);
  await service.close();
});

/*
 * One capacitor: fee 89.00, part 55.20, labor 75.49, access 25.16, credit of half the fee 44.50.
 * Before tax 200.35, of which the fee that is left is 44.50.
 */
const BEFORE_TAX = 20_035;
const everything = ['visit_fee', 'part', 'labor', 'access'];

describe('the tax of a capacitor', () => {
  it.each([
    {
      name: 'on parts: 8.25 % of 55.20 is 4.554',
      rule: {},
      taxCents: 455,
    },
    {
      name: 'on everything, once for the document: 7.25 % of 200.35 is 14.525375',
      rule: { rate: '0.0725', taxableClasses: everything, basis: 'invoice' },
      taxCents: 1_453,
    },
    {
      name: 'on everything, line by line: 3.23 + 4.00 + 5.47 + 1.82',
      rule: { rate: '0.0725', taxableClasses: everything, basis: 'item' },
      taxCents: 1_452,
    },
    {
      name: 'on parts and labor: 8.25 % of 130.69 is 10.781925',
      rule: { taxableClasses: ['part', 'labor'] },
      taxCents: 1_078,
    },
    { name: 'on nothing', rule: { taxableClasses: [] }, taxCents: 0 },
    { name: 'at no rate', rule: { rate: '0' }, taxCents: 0 },
    {
      name: 'of a lump-sum job: none to the customer, who pays one price',
      rule: { mode: 'lump_sum' },
      taxCents: 0,
    },
  ])('$name', async ({ rule, taxCents }) => {
    const quote = await capacitorQuote(await siteTaxed(rule));
    const [option] = quote.body.options;
    assertAddsUp(option);
    expect(option).toMatchObject({ taxCents, totalCents: BEFORE_TAX + taxCents });
  });

  it('a lump-sum paper shows parts and work without separate prices', async () => {
    const quote = await issueQuote(
      service,
      await capacitorQuote(await siteTaxed({ mode: 'lump_sum' })),
    );
    const kept = await service.owner.query<{ paper: { options: { prices: object }[] } }>(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    const prices = kept.rows[0]?.paper.options[0]?.prices;
    expect(prices).toMatchObject({ kind: 'lump_sum', priceCents: BEFORE_TAX });
    expect(JSON.stringify(prices)).not.toMatch(/amountCents|unitPriceCents|\$|5520|7549/);
  });
});

describe('which tax rule holds', () => {
  it('is that of the local day: the old one to the last minute, then the new one', async () => {
    const jurisdiction = await siteTaxed({ effectiveFrom: '2020-01-01' });
    await addRule({ jurisdiction, rate: '0.1', effectiveFrom: '2026-08-01' });
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const found = [await findCapacitor(service, job)];
    const taxAt = async (instant: string) => {
      service.clock.set(instant);
      return (await draftQuote(service, job, found)).body.options[0].taxCents;
    };
    // Midnight of August 1 in America/Chicago is 05:00 in UTC.
    expect(await taxAt('2026-08-01T04:59:59.999Z')).toBe(455);
    expect(await taxAt('2026-08-01T05:00:00.000Z')).toBe(552);
  });

  it('is none before the first or after the last one: nothing is priced then', async () => {
    const jurisdiction = freshName();
    await addRule({ jurisdiction, effectiveFrom: '2026-07-15', effectiveTo: '2026-07-16' });
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const draft = () =>
      service.as('technician').post('/v1/quotes', {
        visitId: job.visitId,
        options: [{ title: 'Nothing', findingIds: [] }],
      });
    expect(expectProblem(await draft(), 'no-tax-rule').status).toBe(409);
    service.clock.set('2026-07-15T05:00:00Z');
    expectStatus(await draft(), 201);
    service.clock.set('2026-07-16T05:00:00Z');
    expectProblem(await draft(), 'no-tax-rule');
  });

  it('cannot be two at once, nor end before it begins', async () => {
    const jurisdiction = freshName();
    await addRule({ jurisdiction, effectiveFrom: '2026-01-01', effectiveTo: '2026-07-01' });
    const again = (days: object) =>
      service.as('owner').post('/v1/tax-rules', { ...taxRule, jurisdiction, ...days });
    const overlaps = [
      { effectiveFrom: '2026-06-30' },
      { effectiveFrom: '2025-12-01', effectiveTo: '2026-01-02' },
      { effectiveFrom: '2025-12-01' },
    ];
    for (const days of overlaps) expectProblem(await again(days), 'already-exists');
    for (const effectiveTo of ['2026-08-01', '2026-07-31']) {
      const backwards = await again({ effectiveFrom: '2026-08-01', effectiveTo });
      expect(expectProblem(backwards, 'validation-failed').body.errors).toMatchObject([
        { pointer: '/effectiveTo' },
      ]);
    }
    expectStatus(await again({ effectiveFrom: '2026-07-01' }), 201);
  });
});

describe('a part under the manufacturer’s warranty', () => {
  it.each([
    { name: 'on its last day', until: '2026-07-14', at: '2026-07-14T18:00:00Z', partCents: 0 },
    {
      name: 'late on its last day, when it is tomorrow in UTC',
      until: '2026-07-14',
      at: '2026-07-15T04:59:00Z',
      partCents: 0,
    },
    {
      name: 'a minute after its last day',
      until: '2026-07-14',
      at: '2026-07-15T05:00:00Z',
      partCents: 5_520,
    },
  ])('$name', async ({ until, at, partCents }) => {
    const site = await addSite(service, { outdoor: { partsWarrantyUntil: until } });
    const job = await arriveAtJob(service, site);
    const found = [await findCapacitor(service, job)];
    service.clock.set(at);
    const { body } = await draftQuote(service, job, found);
    const [option] = body.options;
    expect(option.classTotals).toEqual({
      visit_fee: 4_450,
      part: partCents,
      labor: 7_549,
      access: 2_516,
    });
  });

  it('says why it costs nothing, and nobody can charge it after all', async () => {
    const site = await addSite(service, { outdoor: { partsWarrantyUntil: '2030-01-01' } });
    const job = await arriveAtJob(service, site);
    const found = await findCapacitor(service, job);
    const { body } = await draftQuote(service, job, [found]);
    const part = body.options[0].lines.find((line: { kind: string }) => line.kind === 'part');
    expect(part).toMatchObject({
      amountCents: 0,
      why: { sentence: 'No charge: the part is under the manufacturer’s warranty.' },
    });
    for (const who of ['technician', 'owner'] as const) {
      const charged = await service.as(who).post('/v1/quotes', {
        visitId: job.visitId,
        options: [
          {
            title: 'Repair',
            findingIds: [found],
            adjustments: [{ aimedAt: part.key, amountCents: 100, reason: 'Handling' }],
          },
        ],
      });
      expect(expectProblem(charged, 'price-refused').body.errors).toMatchObject([
        { code: 'free_line_charged' },
      ]);
    }
  });

  it('is not one that the maker never warranted', async () => {
    const site = await addSite(service);
    const indoor = await service.as('dispatcher').get(`/v1/equipment/${site.indoorId}`);
    expectStatus(
      await service
        .as('dispatcher')
        .patch(
          `/v1/equipment/${site.indoorId}`,
          { partsWarrantyUntil: '2030-01-01' },
          { ifMatch: indoor.headers['etag'] ?? '' },
        ),
      200,
    );
    const job = await arriveAtJob(service, site);
    const { body } = await draftQuote(service, job, [await findOpenFuse(service, job)]);
    expect(body.options[0].classTotals.part).toBe(135);
  });
});

describe('which warranty of the maker counts for a part', () => {
  const over = '2026-07-13';
  const runs = '2026-07-14';

  it.each([
    { part: 'none', parts: runs, compressor: runs, partCents: 5_520 },
    { part: 'unit', parts: runs, compressor: over, partCents: 0 },
    { part: 'unit', parts: over, compressor: runs, partCents: 5_520 },
    { part: 'unit', parts: undefined, compressor: runs, partCents: 5_520 },
    { part: 'compressor', parts: over, compressor: runs, partCents: 0 },
    { part: 'compressor', parts: runs, compressor: over, partCents: 5_520 },
    { part: 'compressor', parts: runs, compressor: undefined, partCents: 0 },
    { part: 'compressor', parts: over, compressor: undefined, partCents: 5_520 },
    { part: 'compressor', parts: undefined, compressor: undefined, partCents: 5_520 },
  ])(
    'of class $part, with the unit until $parts and its compressor until $compressor',
    async ({ part, parts, compressor, partCents }) => {
      const warranted = priceBook.parts.map((each) =>
        each.code === 'CAP-45-5-440' ? { ...each, warrantyClass: part } : each,
      );
      expectStatus(
        await service.as('owner').post('/v1/price-books', { ...priceBook, parts: warranted }),
        201,
      );
      const outdoor = {
        ...(parts && { partsWarrantyUntil: parts }),
        ...(compressor && { compressorWarrantyUntil: compressor }),
      };
      const job = await arriveAtJob(service, await addSite(service, { outdoor }));
      const { body } = await draftQuote(service, job, [await findCapacitor(service, job)]);
      expect(body.options[0].classTotals.part).toBe(partCents);
      expectStatus(await service.as('owner').post('/v1/price-books', priceBook), 201);
    },
  );

  it('is on record with the machine, corrected and erased like the others', async () => {
    const outdoor = { compressorWarrantyUntil: '2031-05-01' };
    const { outdoorId } = await addSite(service, { outdoor });
    const path = `/v1/equipment/${outdoorId}`;
    const kept = await service.as('dispatcher').get(path);
    expect(kept.body).toMatchObject({ ...outdoor, partsWarrantyUntil: null });
    let tag = kept.headers['etag'] ?? '';
    for (const compressorWarrantyUntil of ['2032-05-01', null]) {
      const changed = await service
        .as('dispatcher')
        .patch(path, { compressorWarrantyUntil }, { ifMatch: tag });
      expect(expectStatus(changed, 200).body).toMatchObject({ compressorWarrantyUntil });
      tag = changed.headers['etag'] ?? '';
    }
    const wrong = { compressorWarrantyUntil: '2032-02-30' };
    expectProblem(
      await service.as('dispatcher').patch(path, wrong, { ifMatch: tag }),
      'validation-failed',
    );
  });
});

describe('a warranty that changes between a draft and its issue', () => {
  const until = (day: string | null) => (day === null ? {} : { partsWarrantyUntil: day });

  it.each([
    ['is recorded', null, '2030-01-01', 'price-outdated'],
    ['turns out to have ended', '2030-01-01', '2020-01-01', 'price-outdated'],
    ['turns out never to have been', '2030-01-01', null, 'price-outdated'],
    ['is only longer', '2030-01-01', '2031-01-01', undefined],
    ['had only ended earlier', '2020-01-01', '2019-01-01', undefined],
  ] as const)('%s', async (_, before, after, problem) => {
    const site = await addSite(service, { outdoor: until(before) });
    const job = await arriveAtJob(service, site);
    const found = await findCapacitor(service, job);
    const draft = await draftQuote(service, job, [found]);
    await changeWarranty(site.outdoorId, after);
    const technician = service.as('technician');
    const path = `/v1/quotes/${draft.body.id}`;
    const issued = await technician.post(`${path}/issue`, {}, { ifMatch: draft.tag });
    if (problem === undefined) {
      expectStatus(issued, 200);
      return;
    }
    expectProblem(issued, problem);
    const options = [{ title: 'Repair', findingIds: [found] }];
    const revised = await technician.post(`${path}/revise`, { options }, { ifMatch: draft.tag });
    const { body } = expectStatus(revised, 200);
    await issueQuote(service, { body, tag: revised.headers['etag'] ?? '' });
  });

  it('by itself, because its last day is over', async () => {
    const site = await addSite(service, { outdoor: until('2026-07-14') });
    const job = await arriveAtJob(service, site);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    // A minute after midnight in America/Chicago.
    service.clock.set('2026-07-15T05:01:00Z');
    const late = await service
      .as('technician')
      .post(`/v1/quotes/${draft.body.id}/issue`, {}, { ifMatch: draft.tag });
    expectProblem(late, 'price-outdated');
  });
});

async function changeWarranty(
  equipmentId: string,
  partsWarrantyUntil: string | null,
): Promise<void> {
  const path = `/v1/equipment/${equipmentId}`;
  const dispatcher = service.as('dispatcher');
  const { headers } = await dispatcher.get(path);
  const ifMatch = headers['etag'] ?? '';
  expectStatus(await dispatcher.patch(path, { partsWarrantyUntil }, { ifMatch }), 200);
}

let named = 0;
function freshName(): string {
  named += 1;
  return `county_${named}`;
}

async function addRule(change: object): Promise<void> {
  expectStatus(await service.as('owner').post('/v1/tax-rules', { ...taxRule, ...change }), 201);
}

/** A jurisdiction of its own with this rule. */
async function siteTaxed(change: object): Promise<string> {
  const jurisdiction = freshName();
  await addRule({ jurisdiction, ...change });
  return jurisdiction;
}

async function capacitorQuote(jurisdiction: string): Promise<QuoteAt> {
  const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
  return draftQuote(service, job, [await findCapacitor(service, job)]);
}
