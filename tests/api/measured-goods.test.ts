import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { chargedPlate, findLowCharge, proveLowCharge } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  outdoorPlate,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/*
 * Worked with a pencil from the invented price book; nothing here calls the engine.
 *
 *   visit fee                    as told at the call                                    89.00
 *   refrigerant                  2.25 lb of a 25 lb cylinder at 310.00: cost 27.90
 *                                25.00 x 3 + 2.90 x 2.2                                 81.38
 *   labor                        45 / 60 x 150.97 = 113.2275                           113.23
 *   access                       15 / 60 x 150.97 = 37.7425                             37.74
 *   credit                       half the fee                                          -44.50
 *   before tax                                                                         276.85
 *   tax                          8.25 % of 81.38: 6.71385                                6.71
 *   total                                                                              283.56
 */
const REFRIGERANT = 8_138;
const BEFORE_TAX = 27_685;
const CAPACITOR = 5_520;

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(async () => {
  job = await jobAt(taxRule.jurisdiction);
});
afterAll(async () => {
  expect(await assertReprices(service)).toBeGreaterThan(10);
  await service.close();
});

describe('refrigerant by weight', () => {
  it('is found with its evidence, priced by the pencil, printed in pounds and agreed to', async () => {
    const found = await findLowCharge(service, job);
    const findings = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
    expect(findings.body.items).toMatchObject([
      { priceable: true, parts: [{ partCode: 'REF-R-410A', measured: '2.25' }] },
    ]);

    const drafted = await draftQuote(service, job, [found]);
    const [option] = drafted.body.options;
    assertAddsUp(option);
    expect(option.lines.map(({ kind, amountCents }: Line) => [kind, amountCents])).toEqual([
      ['visit_fee', 8_900],
      ['good', REFRIGERANT],
      ['labor', 11_323],
      ['access', 3_774],
      ['credit', -4_450],
      ['tax', 671],
    ]);
    expect(option.totalCents).toBe(28_356);
    expect(option.lines[1]).toMatchObject({
      key: `good:${found}:add_refrigerant:REF-R-410A`,
      class: 'part',
      code: 'REF-R-410A',
      findingIds: [found],
      measured: '2.25',
      unit: '[lb_av]',
      quantity: null,
      unitPriceCents: null,
      minutes: null,
      why: { sentence: '2.25 lb for $81.38.' },
    });
    expect(option.lines[0]).toMatchObject({ measured: null, unit: null });

    const issued = await issueQuote(service, drafted);
    const { prices } = await printed(issued);
    expect(lineOf(prices, 'Refrigerant R-410A')).toEqual({
      description: 'Refrigerant R-410A',
      quantityText: '2.25 lb',
      detail: '2.25 lb for $81.38.',
      amountCents: REFRIGERANT,
    });
    const accepted = await service
      .as('technician')
      .post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), { ifMatch: issued.tag });
    expect(expectStatus(accepted, 200).body.acceptance.totalCents).toBe(28_356);
  });

  it('shows its cost to the owner and to nobody else', async () => {
    const { body } = await draftQuote(service, job, [await findLowCharge(service, job)]);
    const path = `/v1/quotes/${body.id}`;
    expect((await service.as('owner').get(path)).text).toMatch(/31000/);
    expect((await service.as('technician').get(path)).text).not.toMatch(/31000|27\.90|2790/);
  });

  it('is told in the list of parts by its unit; a capacitor has none', async () => {
    const { body } = await service.as('technician').get('/v1/parts?search=r-410a');
    expect(body.items).toContainEqual(
      expect.objectContaining({ code: 'REF-R-410A', unit: '[lb_av]' }),
    );
    const capacitors = await service.as('technician').get('/v1/parts?category=dual_run_capacitor');
    expect(capacitors.body.items[0]).toMatchObject({ unit: null });
  });

  it.each([
    ['a count of something sold by the pound', { quantity: 2 }, '/parts/0/quantity', /2\.5 lb/],
    ['nothing', { measured: '0' }, '/parts/0/measured', /above 0/],
    ['a figure finer than a scale', { measured: '2.2505' }, '/parts/0/measured', /three digits/],
    ['less than nothing', { measured: '-1' }, '/parts/0/measured', /decimal/],
    ['a power of ten', { measured: '1e3' }, '/parts/0/measured', /decimal/],
    ['a number that is no text', { measured: 2.25 }, '/parts/0/measured', /string/],
    ['pieces and pounds at once', { quantity: 1, measured: '1' }, '/parts/0', /either/],
    ['neither pieces nor pounds', {}, '/parts/0', /either/],
  ])('is not taken down as %s', async (_, amount, pointer, message) => {
    await proveLowCharge(service, job);
    const refused = await find([{ partCode: 'REF-R-410A', ...amount }]);
    const [error] = expectProblem(refused, 'validation-failed').body.errors;
    expect(error.pointer).toBe(pointer);
    expect(error.message).toMatch(message);
  });

  it('is refused beyond twice the factory charge of the nameplate: 25 typed for 2.5', async () => {
    await proveLowCharge(service, job);
    const refused = await find([{ partCode: 'REF-R-410A', measured: '25' }]);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      {
        pointer: '/parts/0/measured',
        code: 'beyond_reason',
        message: expect.stringContaining('25 lb is more than twice the factory charge of 104 oz'),
      },
    ]);
    expectStatus(await find([{ partCode: 'REF-R-410A', measured: '13' }]), 201);
  });

  it('a capacitor by the pound is refused as well: it is sold in pieces', async () => {
    const refused = await service.as('technician').post(`/v1/visits/${job.visitId}/findings`, {
      equipmentId: job.outdoorId,
      faultCode: 'run_capacitor_herm',
      taskCode: 'replace_dual_run_capacitor',
      parts: [{ partCode: 'CAP-45-5-440', measured: '1' }],
    });
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/parts/0/measured', code: 'sold_in_pieces' },
    ]);
  });

  it('comes from one cylinder: the same refrigerant twice is refused', async () => {
    await proveLowCharge(service, job);
    const one = { partCode: 'REF-R-410A', measured: '1' };
    const refused = expectProblem(await find([one, one]), 'does-not-fit');
    expect(refused.body.detail).toMatch(/one part of each kind/);
  });

  it('written twice with the same weight is one piece of work; with another it is refused', async () => {
    const found = await findLowCharge(service, job);
    const again = expectStatus(await find([{ partCode: 'REF-R-410A', measured: '2.250' }]), 201)
      .body.id;
    const { body } = await draftQuote(service, job, [found, again]);
    const goods = body.options[0].lines.filter(({ kind }: Line) => kind === 'good');
    expect(goods).toMatchObject([{ measured: '2.25', findingIds: [found, again] }]);
    const more = expectStatus(await find([{ partCode: 'REF-R-410A', measured: '3' }]), 201).body.id;
    const refused = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Repair', findingIds: [found, more] }],
    });
    expect(expectProblem(refused, 'price-refused').body.errors).toMatchObject([
      { code: 'same_work_twice' },
    ]);
  });
});

describe('a tax rule that looks at what is sold', () => {
  it.each([
    { name: 'parts', taxableClasses: ['part'], taxed: CAPACITOR, label: 'parts' },
    { name: 'materials', taxableClasses: ['material'], taxed: REFRIGERANT, label: 'materials' },
    { name: 'equipment, of which there is none here', taxableClasses: ['equipment'], taxed: 0 },
    {
      name: 'parts and materials',
      taxableClasses: ['part', 'material'],
      taxed: CAPACITOR + REFRIGERANT,
      label: 'parts and materials',
    },
  ])('taxes $name', async ({ taxableClasses, taxed, label }) => {
    job = await jobAt(await jurisdictionWith({ taxableClasses }));
    const issued = await issueQuote(service, await capacitorAndCharge());
    expect(issued.body.options[0].taxCents).toBe(Math.round(taxed * 0.0825));
    const { taxes } = await printed(issued);
    expect(taxes.map((tax: { label: string }) => tax.label)).toEqual(
      label === undefined ? [] : [`Sales tax, 8.25% of ${label}`],
    );
  });

  it('taxes by the class that the owner’s book gives a part', async () => {
    const parts = priceBook.parts.map((part) =>
      part.code === 'CAP-45-5-440' ? { ...part, taxClass: 'equipment' } : part,
    );
    await publish({ ...priceBook, parts });
    job = await jobAt(await jurisdictionWith({ taxableClasses: ['equipment'] }));
    const { body } = await capacitorAndCharge();
    await publish(priceBook);
    expect(body.options[0].taxCents).toBe(455);
  });

  it('taxes refrigerant as a part where the owner’s book gives it no class', async () => {
    const parts = priceBook.parts.map(({ taxClass: _, ...part }) => part);
    await publish({ ...priceBook, parts });
    job = await jobAt(await jurisdictionWith({ taxableClasses: ['part'] }));
    const { body } = await capacitorAndCharge();
    await publish(priceBook);
    expect(body.options[0].taxCents).toBe(Math.round((CAPACITOR + REFRIGERANT) * 0.0825));
  });
});

/*
 * Charges before the credit: fee 89.00, capacitor 55.20, labor 75.49, access 25.16: 244.85, of
 * which the part is 22.5 %. Before tax 200.35.
 */
describe('a lump sum', () => {
  it('shows weights and minutes, one price and no tax', async () => {
    job = await jobAt(await jurisdictionWith({ mode: 'lump_sum' }));
    const drafted = await draftQuote(service, job, [await findLowCharge(service, job)]);
    const { prices, taxes, totalCents } = await printed(await issueQuote(service, drafted));
    expect(prices).toMatchObject({ kind: 'lump_sum', priceCents: BEFORE_TAX });
    expect(lineOf(prices, 'Refrigerant R-410A')).toEqual({
      description: 'Refrigerant R-410A',
      quantityText: '2.25 lb',
    });
    expect(JSON.stringify(prices)).not.toMatch(/amountCents|unitPriceCents|\$|8138/);
    expect([taxes, totalCents]).toEqual([[], BEFORE_TAX]);
  });

  it('names a maintenance agreement once, as its discounts have no prices', async () => {
    job = await jobAt(await jurisdictionWith({ mode: 'lump_sum' }));
    const agreed = await service.as('dispatcher').post(`/v1/sites/${job.siteId}/agreements`, {
      planCode: 'two_visits',
      startsOn: '2026-07-01',
      endsOn: '2027-07-01',
      agreedByName: 'Winifred Ashgrove',
    });
    expectStatus(agreed, 201);
    const drafted = await draftQuote(service, job, [await findLowCharge(service, job)]);
    const { prices } = await printed(await issueQuote(service, drafted));
    expect(prices.groups.at(-1)).toEqual({
      heading: 'Discounts and credits',
      lines: [
        { description: 'Maintenance agreement: Two visits a year' },
        { description: 'Visit fee credited on acceptance' },
      ],
    });
  });

  it.each([
    { share: '0.1', kind: 'separated', taxCents: 455 },
    { share: '0.25', kind: 'lump_sum', taxCents: 0 },
  ])(
    'with 22.5 % of goods is $kind where the rule separates above $share',
    async ({ share, kind, taxCents }) => {
      const rule = { mode: 'lump_sum', separateAboveShare: share };
      job = await jobAt(await jurisdictionWith(rule));
      const drafted = await draftQuote(service, job, [await findCapacitor(service, job)]);
      const issued = await issueQuote(service, drafted);
      expect(issued.body.options[0]).toMatchObject({ taxCents, totalCents: 20_035 + taxCents });
      const { prices, taxes, explanation } = await printed(issued);
      expect(prices.kind).toBe(kind);
      expect(taxes.map(({ amountCents }: Line) => amountCents)).toEqual(taxCents ? [taxCents] : []);
      // Who is used to one price is told why there are many.
      if (kind === 'separated') expect(explanation).toMatch(/10%/);
      else expect(explanation).toBeUndefined();
    },
  );

  it('is the only one that can be separated above a share', async () => {
    const rule = { ...taxRule, jurisdiction: 'elsewhere', separateAboveShare: '0.1' };
    const refused = await service.as('owner').post('/v1/tax-rules', rule);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/separateAboveShare' },
    ]);
  });

  it('keeps its share when a rule with an end interrupts it', async () => {
    const jurisdiction = await jurisdictionWith({ mode: 'lump_sum', separateAboveShare: '0.1' });
    const holiday = { jurisdiction, rate: '0', effectiveFrom: '2030-08-01' };
    await addRule({ ...holiday, effectiveTo: '2030-08-04' });
    const { body } = await service.as('owner').get(`/v1/tax-rules?jurisdiction=${jurisdiction}`);
    expect(
      body.items.map(({ effectiveFrom, separateAboveShare }: Record<string, unknown>) => [
        effectiveFrom,
        separateAboveShare,
      ]),
    ).toEqual([
      ['2020-01-01', '0.1'],
      ['2030-08-01', null],
      ['2030-08-04', '0.1'],
    ]);
  });
});

interface Line {
  kind: string;
  amountCents: number;
}

async function jobAt(jurisdiction: string): Promise<Job> {
  const nameplate = { ...outdoorPlate, ...chargedPlate };
  return arriveAtJob(service, await addSite(service, { jurisdiction, outdoor: { nameplate } }));
}

async function capacitorAndCharge(): Promise<QuoteAt> {
  const found = [await findCapacitor(service, job), await findLowCharge(service, job)];
  return draftQuote(service, job, found);
}

function find(parts: object[]) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/findings`, {
    equipmentId: job.outdoorId,
    faultCode: 'low_charge',
    taskCode: 'add_refrigerant',
    parts,
  });
}

/** The first option of the paper that was issued. */
async function printed({ body }: QuoteAt) {
  const { rows } = await service.owner.query(
    `SELECT paper -> 'options' -> 0 AS option FROM quote_issue WHERE quote_id = $1`,
    [body.id],
  );
  return rows[0].option;
}

function lineOf(prices: { groups: { lines: { description: string }[] }[] }, description: string) {
  return prices.groups
    .flatMap(({ lines }) => lines)
    .find((line) => line.description === description);
}

let counties = 0;
async function jurisdictionWith(rule: object): Promise<string> {
  counties += 1;
  const jurisdiction = `goods_county_${counties}`;
  await addRule({ jurisdiction, ...rule });
  return jurisdiction;
}

async function addRule(change: object): Promise<void> {
  expectStatus(await service.as('owner').post('/v1/tax-rules', { ...taxRule, ...change }), 201);
}

async function publish(book: object): Promise<void> {
  expectStatus(await service.as('owner').post('/v1/price-books', book), 201);
}
