import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { faultCatalog, partCategorySchema, taskCodeSchema } from '../../src/trade/index.ts';
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

const owner = () => service.as('owner');
const publish = (change: object) => owner().post('/v1/price-books', { ...priceBook, ...change });
const byCode = (a: { code: string }, b: { code: string }) => (a.code < b.code ? -1 : 1);

const refrigerant = {
  code: 'REF-OZ',
  name: 'Refrigerant R-32, by the ounce',
  costCents: 24_000,
  measured: { unit: '[oz_av]', packQuantity: '320' },
  fit: { category: 'refrigerant', specs: { refrigerant: 'R-32' } },
};
const filter = {
  code: 'FLT-ROLL',
  name: 'Filter from the roll',
  costCents: 4_200,
  measured: { unit: '[ft_i]', packQuantity: '50.5' },
  fit: { category: 'filter', specs: {} },
};
const outdoorUnit = {
  code: 'OUT-NEW',
  name: 'Outdoor unit 2 tons, R-32',
  costCents: 170_000,
  fit: { category: 'outdoor_unit', specs: { refrigerant: 'R-32', tons: 2 } },
};
const capacitor = {
  code: 'CAP-NEW',
  name: 'Run capacitor 30 µF, 440 V',
  costCents: 1_100,
  fit: { category: 'run_capacitor', specs: { microfarads: 30, voltsMax: 440 } },
};

describe('the invented price book', () => {
  it('has every task of the catalog and a part of every kind that a remedy takes', () => {
    expect(priceBook.tasks.map(({ code }) => code)).toEqual(taskCodeSchema.options);
    const needed = faultCatalog.flatMap(({ remedies }) =>
      remedies.flatMap(({ partCategories }) => [...partCategories]),
    );
    const sold = new Set(priceBook.parts.map(({ fit }) => fit.category));
    expect(needed.filter((category) => !sold.has(category))).toEqual([]);
    expect([...sold].sort()).toEqual(partCategorySchema.options.toSorted());
  });

  it('comes back with everything the owner wrote', async () => {
    const { body } = expectStatus(await owner().get('/v1/price-books/in-force'), 200);
    for (const field of ['rates', 'tiers', 'policy', 'periods', 'agreements', 'replacements']) {
      expect(body[field]).toEqual(priceBook[field as keyof typeof priceBook]);
    }
    expect(body.tasks).toMatchObject(priceBook.tasks.toSorted(byCode));
    expect(body.parts).toMatchObject(priceBook.parts.toSorted(byCode));
  });
});

describe('a price book', () => {
  it('tells of each task which faults it mends and how, as the catalog knows it', async () => {
    const { body } = expectStatus(await owner().get('/v1/price-books/in-force'), 200);
    const known = body.tasks.flatMap((task: Task) =>
      task.remedies.map(({ fault, remedyClass }) => `${fault} ${task.code} ${remedyClass}`),
    );
    const catalog = faultCatalog.flatMap(({ code, remedies }) =>
      remedies.map(({ task, remedyClass }) => `${code} ${task} ${remedyClass}`),
    );
    expect(known.sort()).toEqual(catalog.sort());
    expect(body.tasks.filter(({ remedies }: Task) => remedies.length === 0)).toEqual([]);
  });

  it('takes it from nobody’s hand what a task does to a fault', async () => {
    const [task, ...tasks] = priceBook.tasks;
    const remedies = [{ fault: 'tripped_breaker', remedyClass: 'repair' }];
    const refused = await publish({ tasks: [{ ...task, remedies }, ...tasks] });
    expectProblem(refused, 'validation-failed');
  });

  it('says for a part what was left out: taxed as a part whatever it is, and that no maker replaces it', async () => {
    const parts = [
      capacitor,
      filter,
      refrigerant,
      outdoorUnit,
      { ...capacitor, code: 'CAP-T', taxClass: 'material' },
    ];
    const { body } = expectStatus(await publish({ parts }), 201);
    expect(body.parts).toEqual([
      { ...capacitor, taxClass: 'part', warrantyClass: 'none' },
      { ...capacitor, code: 'CAP-T', taxClass: 'material', warrantyClass: 'none' },
      { ...filter, taxClass: 'part', warrantyClass: 'none' },
      { ...outdoorUnit, taxClass: 'part', warrantyClass: 'none' },
      { ...refrigerant, taxClass: 'part', warrantyClass: 'none' },
    ]);
    expectStatus(await publish({}), 201);
  });

  it('needs neither agreements nor what a new machine costs', async () => {
    const { agreements: _, replacements: __, ...bare } = priceBook;
    const { body } = expectStatus(await owner().post('/v1/price-books', bare), 201);
    expect([body.agreements, body.replacements]).toEqual([[], []]);
    expectStatus(await publish({}), 201);
  });

  it('knows a wage by its parts or as one sum, never both and never neither', async () => {
    const { wage, ...carried } = { wage: undefined, ...priceBook.rates };
    const oneSum = { ...carried, annualBurdenedWageCents: 8_133_044 };
    const { body } = expectStatus(await publish({ rates: oneSum }), 201);
    expect(body.laborRateCents).toBe(15_097);
    expectProblem(await publish({ rates: { ...oneSum, wage } }), 'validation-failed');
    expectProblem(await publish({ rates: carried }), 'validation-failed');
    expect(expectStatus(await publish({}), 201).body.laborRateCents).toBe(15_097);
  });

  const rising = {
    mode: 'progressive',
    steps: [
      { upToCents: 2_500, factor: '2' },
      { upToCents: null, factor: '2.000001' },
    ],
  };
  const twice = (items: readonly object[] = []) => [...items, ...items.slice(0, 1)];
  const agreement = { code: 'plan', name: 'Plan', annualPriceCents: 1, visitsPerYear: 1 };
  const machine = { kind: 'furnace', typicalPriceCents: 400_000 };

  it.each([
    ['factors that rise, where something is sold by the pound', { tiers: rising }, '/tiers'],
    [
      'a capacitor by the foot',
      { parts: [{ ...capacitor, measured: { unit: '[ft_i]', packQuantity: '1' } }] },
      '/parts/0/measured',
    ],
    [
      'refrigerant by the gallon',
      { parts: [{ ...refrigerant, measured: { unit: '[gal_us]', packQuantity: '1' } }] },
      '/parts/0/measured/unit',
    ],
    [
      'a unit that nobody sells by',
      { parts: [{ ...refrigerant, measured: { unit: 'kg', packQuantity: '1' } }] },
      '/parts/0/measured/unit',
    ],
    [
      'an empty cylinder',
      { parts: [{ ...refrigerant, measured: { unit: '[lb_av]', packQuantity: '0' } }] },
      '/parts/0/measured/packQuantity',
    ],
    [
      'a unit without how much a pack holds',
      { parts: [{ ...refrigerant, measured: { unit: '[lb_av]' } }] },
      '/parts/0/measured/packQuantity',
    ],
    [
      'refrigerant that a maker replaces',
      { parts: [{ ...refrigerant, warrantyClass: 'compressor' }] },
      '/parts/0/warrantyClass',
    ],
    [
      'a warranty that no maker gives',
      { parts: [{ ...capacitor, warrantyClass: 'lifetime' }] },
      '/parts/0/warrantyClass',
    ],
    ['labor as a part', { parts: [{ ...capacitor, taxClass: 'labor' }] }, '/parts/0/taxClass'],
    ['an agreement twice', { agreements: twice(priceBook.agreements) }, '/agreements'],
    [
      'a discount of more than everything',
      { agreements: [{ ...agreement, discounts: { labor: '1.01' } }] },
      '/agreements/0/discounts/labor',
    ],
    [
      'a discount on tax',
      { agreements: [{ ...agreement, discounts: { tax: '0.1' } }] },
      '/agreements/0/discounts/tax',
    ],
    [
      'sizes of new machines that fall',
      {
        replacements: [
          { ...machine, tonsUpTo: 3 },
          { ...machine, tonsUpTo: 2.5 },
        ],
      },
      '/replacements',
    ],
    [
      'a size above any size',
      {
        replacements: [
          { ...machine, tonsUpTo: null },
          { ...machine, tonsUpTo: 5 },
        ],
      },
      '/replacements',
    ],
    [
      'the same size twice',
      {
        replacements: [
          { ...machine, tonsUpTo: 3 },
          { ...machine, tonsUpTo: 3 },
        ],
      },
      '/replacements',
    ],
  ])('is refused with %s', async (_, change, pointer) => {
    const refused = expectProblem(await publish(change), 'validation-failed');
    expect(refused.body.errors).toContainEqual(expect.objectContaining({ in: 'body', pointer }));
  });

  it('may have factors that rise where everything is sold in pieces', async () => {
    const parts = priceBook.parts.filter(({ measured }) => measured === undefined);
    expectStatus(await publish({ tiers: rising, parts }), 201);
    expectStatus(await publish({}), 201);
  });
});

describe('a part’s code', () => {
  const inPieces = { ...refrigerant, code: 'REF-R-410A', measured: undefined };
  const inOunces = { ...refrigerant, code: 'REF-R-410A' };

  it.each([
    ['in pieces', inPieces],
    ['by the ounce', inOunces],
  ])('keeps its unit: what was sold by the pound is not sold %s under it', async (_, part) => {
    const at = priceBook.parts.findIndex(({ code }) => code === part.code);
    const refused = await publish({ parts: priceBook.parts.with(at, part as never) });
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      {
        pointer: `/parts/${at}/measured`,
        code: 'unit_changed',
        message: expect.stringContaining('REF-R-410A was sold in [lb_av] before'),
      },
    ]);
  });

  it('keeps it through a book that did not have it', async () => {
    const without = priceBook.parts.filter(({ code }) => code !== 'REF-R-410A');
    expectStatus(await publish({ parts: without }), 201);
    expectProblem(await publish({ parts: [...without, inPieces] }), 'validation-failed');
    expectStatus(await publish({}), 201);
  });

  it('may come with another pack and another cost', async () => {
    const parts = priceBook.parts.map((part) =>
      part.code === 'REF-R-410A'
        ? { ...part, costCents: 14_000, measured: { unit: '[lb_av]', packQuantity: '10' } }
        : part,
    );
    expectStatus(await publish({ parts }), 201);
    expectStatus(await publish({}), 201);
  });
});

interface Task {
  code: string;
  remedies: { fault: string; remedyClass: string }[];
}
