import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { billOf, larkmoor, levelAt, openShop, type Shop, suppliedBook } from '../harness/shop.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let shop: Shop;
beforeAll(async () => {
  service = await createTestService();
  shop = await openShop(service);
});
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');
const enter = (bill: object) => dispatcher().post('/v1/supplier-bills', bill);
const capacitors = { partCode: 'CAP-45-5-440', quantity: '10', amountCents: 20_240 };

describe('a supplier’s bill', () => {
  it('is kept as it was, counts up what it brought, and is on record', async () => {
    const bill = billOf(shop.shelvesId, capacitors, {
      lines: [capacitors, { description: 'Shop rags', quantity: '2', amountCents: 900 }],
      totalCents: 20_240 + 900 + 350,
    });
    const entered = expectStatus(await enter(bill), 201);
    expect(entered.body).toMatchObject({
      supplier: larkmoor,
      number: bill.number,
      billedOn: '2026-07-01',
      placeId: shop.shelvesId,
      otherCents: 350,
      totalCents: 21_490,
      recordedById: service.staff.dispatcher.id,
      lines: [
        { ...capacitors, position: 1, description: expect.stringContaining('45/5') },
        { position: 2, partCode: null, description: 'Shop rags', quantity: '2', unitCost: null },
      ],
    });
    expect(await levelAt(service, shop.shelvesId, 'CAP-45-5-440')).toBe('10');
    const path = entered.headers['location'] ?? '';
    expect(path).toBe(`/v1/supplier-bills/${entered.body.id}`);
    expect((await dispatcher().get(path)).body).toEqual(entered.body);
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${entered.body.id}`);
    expect(journal.body.items).toMatchObject([
      {
        event: 'supplier_bill.recorded',
        changes: {
          after: { number: bill.number, lineCount: 2, otherCents: 350, totalCents: 21_490 },
        },
      },
    ]);
  });

  // Arithmetic by hand: 202.40 / 10 = 20.24 against 18.40; 640.00 for 50 lb is 320.00 a cylinder of
  // 25; 100.00 / 3 = 33.333 -> 33.33; 18.41 / 2 = 9.205, whose half cent goes up.
  it.each([
    ['CAP-45-5-440', '10', 20_240, { billedCents: 2_024, bookCents: 1_840, differenceCents: 184 }],
    ['CAP-45-5-440', '3', 10_000, { billedCents: 3_333, differencePercent: '81.1' }],
    ['CAP-45-5-440', '2', 1_841, { billedCents: 921, differenceCents: -919 }],
    ['CAP-45-5-440', '-3', -10_000, { billedCents: 3_333, differencePercent: '81.1' }],
    ['CAP-45-5-440', '4', 0, { billedCents: 0, differencePercent: '-100.0' }],
    ['CAP-45-5-440', '1', 1_840, { differenceCents: 0, differencePercent: '0.0' }],
    ['REF-R-410A', '50', 64_000, { billedCents: 32_000, bookCents: 31_000, packQuantity: '25' }],
    ['REF-R-410A', '12.5', 15_500, { billedCents: 31_000, unit: '[lb_av]', differenceCents: 0 }],
  ])(
    'sets %s, %s for %i cents, beside the book’s cost of a piece or a pack',
    async (partCode, quantity, amountCents, unitCost) => {
      const bill = billOf(shop.otherTruckId, { partCode, quantity, amountCents });
      const entered = await service.as('owner').post('/v1/supplier-bills', bill);
      const { body, headers } = expectStatus(entered, 201);
      expect(body.lines[0].unitCost).toMatchObject(unitCost);
      const seen = await service.as('owner').get(headers['location'] ?? '');
      expect(seen.body).toEqual(body);
    },
  );

  it('says to the office what it charged for a pack, and nothing of the book’s cost', async () => {
    const line = { partCode: 'REF-R-410A', quantity: '50', amountCents: 64_000 };
    const { body } = expectStatus(await enter(billOf(shop.otherTruckId, line)), 201);
    const unitCost = { unit: '[lb_av]', packQuantity: '25', billedCents: 32_000 };
    expect(body.lines[0].unitCost).toEqual(unitCost);
  });

  it('is still read when a later book has other packs, and then says nothing of a cost', async () => {
    const other = await createTestService();
    try {
      const { shelvesId } = await openShop(other);
      // Ten million dollars for a thousandth of a pound, of a pack as small; then a pack is a million pounds.
      const inPacksOf = (packQuantity: string, effectiveFrom: string) => ({
        ...suppliedBook,
        effectiveFrom,
        parts: suppliedBook.parts.map((part) =>
          part.code === 'REF-R-410A'
            ? { ...part, measured: { unit: '[lb_av]', packQuantity } }
            : part,
        ),
      });
      const publish = async (book: object) =>
        expectStatus(await other.as('owner').post('/v1/price-books', book), 201);
      await publish(inPacksOf('0.001', '2026-02-01T00:00:00Z'));
      const line = { partCode: 'REF-R-410A', quantity: '0.001', amountCents: 1_000_000_000 };
      const bill = billOf(shelvesId, line);
      const entered = await other.as('owner').post('/v1/supplier-bills', bill);
      expectStatus(entered, 201);
      const change = { partCode: 'REF-R-410A', billedCents: 1_000_000_000 };
      const changes = async () =>
        expectStatus(await other.as('owner').get('/v1/cost-changes'), 200).body.items;
      expect(await changes()).toMatchObject([change]);
      await publish(inPacksOf('999999.999', '2026-03-01T00:00:00Z'));
      const read = await other.as('owner').get(entered.headers['location'] ?? '');
      expect(expectStatus(read, 200).body.lines[0].unitCost).toBeNull();
      expect(await changes()).toEqual([]);
    } finally {
      await other.close();
    }
  });

  it('counts down what went back', async () => {
    const back = { partCode: 'FLOAT-1', quantity: '-2', amountCents: -2_300 };
    expectStatus(
      await enter(billOf(shop.shelvesId, { ...back, quantity: '5', amountCents: 5_750 })),
      201,
    );
    expectStatus(await enter(billOf(shop.shelvesId, back)), 201);
    expect(await levelAt(service, shop.shelvesId, 'FLOAT-1')).toBe('3');
  });

  it('that does not add up is refused, and the refusal says by how much', async () => {
    const short = billOf(shop.shelvesId, capacitors, { totalCents: 20_000 });
    const refused = expectProblem(await enter(short), 'validation-failed');
    expect(refused.body.differenceCents).toBe(20_000 - 20_590);
    expect(refused.body.errors).toEqual([
      {
        in: 'body',
        pointer: '/totalCents',
        code: 'does_not_add_up',
        message: 'lines and other charges come to $205.90, which is $5.90 more than this total',
      },
    ]);
  });

  it('is refused line by line for codes that the book does not have', async () => {
    const strange = { partCode: 'CAP-99', quantity: '1', amountCents: 100 };
    const lines = [strange, capacitors, { ...strange, partCode: 'X-1' }];
    const bill = billOf(shop.shelvesId, capacitors, { lines, totalCents: 20_240 + 200 + 350 });
    const refused = expectProblem(await enter(bill), 'unknown-reference');
    const pointers = refused.body.errors.map(({ pointer }: { pointer: string }) => pointer);
    expect(pointers).toEqual(['/lines/0/partCode', '/lines/2/partCode']);
    const free = { description: 'CAP-99, of another book', quantity: '1', amountCents: 100 };
    expectStatus(await enter(billOf(shop.shelvesId, free)), 201);
  });

  it.each<[string, object, string]>([
    ['part of a piece', { lines: [{ ...capacitors, quantity: '1.5' }] }, '/lines/0/quantity'],
    ['a fourth digit', { lines: [{ ...capacitors, quantity: '1.0005' }] }, '/lines/0/quantity'],
    ['nothing', { lines: [{ ...capacitors, quantity: '-0' }] }, '/lines/0/quantity'],
    ['a return that costs', { lines: [{ ...capacitors, quantity: '-1' }] }, '/lines/0/amountCents'],
    [
      'a pack beyond reason',
      {
        lines: [{ partCode: 'REF-R-410A', quantity: '0.001', amountCents: 90_000_000 }],
        totalCents: 90_000_350,
      },
      '/lines/0/amountCents',
    ],
    [
      'neither code nor words',
      { lines: [{ quantity: '1', amountCents: 20_240 }] },
      '/lines/0/description',
    ],
    ['no lines', { lines: [] }, '/lines'],
    ['a day to come', { billedOn: '2026-07-15' }, '/billedOn'],
    ['cents in parts', { totalCents: 20_590.5 }, '/totalCents'],
    ['an unknown field', { paid: true }, '/paid'],
  ])('with %s is refused where it stands', async (_, change, pointer) => {
    const refused = await enter(billOf(shop.shelvesId, capacitors, change));
    expectProblem(refused, 'validation-failed');
    expect(refused.body.errors).toEqual([expect.objectContaining({ pointer })]);
  });

  it('for a place that does not exist is refused', async () => {
    const refused = await enter(billOf(randomUUID(), capacitors));
    expectProblem(refused, 'unknown-reference');
  });

  it('of a supplier and number that were entered is refused, however the supplier is written', async () => {
    const bill = billOf(shop.shelvesId, capacitors);
    expectStatus(await enter(bill), 201);
    const level = await levelAt(service, shop.shelvesId, 'CAP-45-5-440');
    for (const supplier of [larkmoor, larkmoor.toUpperCase()]) {
      expectProblem(await enter({ ...bill, supplier }), 'already-exists');
    }
    expect(await levelAt(service, shop.shelvesId, 'CAP-45-5-440')).toBe(level);
    expectStatus(await enter({ ...bill, supplier: 'Another House' }), 201);
  });

  it('sent again with the same key is the same bill', async () => {
    const bill = billOf(shop.truckId, capacitors);
    const key = randomUUID();
    const send = () => dispatcher().post('/v1/supplier-bills', bill, { key });
    const [first, again] = [await send(), await send()];
    expect([again.status, again.text]).toEqual([201, first.text]);
    expect(await levelAt(service, shop.truckId, 'CAP-45-5-440')).toBe('10');
  });
});

describe('the list of bills', () => {
  it('goes page by page, and by supplier', async () => {
    const numbers: string[] = [];
    for (let each = 0; each < 3; each += 1) {
      const bill = billOf(shop.shelvesId, capacitors, { supplier: 'Marl Brothers' });
      numbers.push(bill.number);
      expectStatus(await enter(bill), 201);
    }
    const path = '/v1/supplier-bills?supplier=Marl%20Brothers&order=newest';
    const first = await dispatcher().get(`${path}&limit=2`);
    const rest = await dispatcher().get(`${path}&cursor=${first.body.nextCursor}`);
    const found = [...first.body.items, ...rest.body.items];
    expect(found.map(({ number }: { number: string }) => number)).toEqual(numbers.reverse());
    expect(rest.body.nextCursor).toBeNull();
    const elsewhere = `/v1/supplier-bills?cursor=${first.body.nextCursor}`;
    expectProblem(await dispatcher().get(elsewhere), 'cursor-invalid');
  });
});

describe('what costs something else than the book says', () => {
  const changes = async (query = '') =>
    expectStatus(await service.as('owner').get(`/v1/cost-changes${query}`), 200).body;
  const changeOf = async (code: string) =>
    (await changes('?limit=100')).items.find(
      ({ partCode }: { partCode: string }) => partCode === code,
    );
  const billed = async (quantity: string, amountCents: number, billedOn: string) => {
    const bill = billOf(
      shop.shelvesId,
      { partCode: 'TRF-40', quantity, amountCents },
      { billedOn },
    );
    expectStatus(await enter(bill), 201);
    return bill;
  };
  const bookCents = suppliedBook.parts.find(({ code }) => code === 'TRF-40')?.costCents ?? 0;

  it('is said by the bill of the latest date; returns and free goods say nothing', async () => {
    expect(await changeOf('TRF-40')).toBeUndefined();
    const { number } = await billed('2', 2 * bookCents + 300, '2026-06-20');
    const expected = {
      partCode: 'TRF-40',
      bookCents,
      billedCents: bookCents + 150,
      differenceCents: 150,
      bill: { supplier: larkmoor, number, billedOn: '2026-06-20' },
    };
    expect(await changeOf('TRF-40')).toMatchObject(expected);
    await billed('1', bookCents + 900, '2026-06-19');
    await billed('-1', -1_000, '2026-06-21');
    await billed('1', 0, '2026-06-22');
    expect(await changeOf('TRF-40')).toMatchObject(expected);
    await billed('3', 3 * bookCents + 1, '2026-06-23');
    expect(await changeOf('TRF-40')).toBeUndefined();
  });

  it('is measured against the book in force, and is gone once the book has the new cost', async () => {
    await billed('1', bookCents + 200, '2026-06-24');
    expect(await changeOf('TRF-40')).toMatchObject({ differenceCents: 200 });
    const parts = suppliedBook.parts.map((part) =>
      part.code === 'TRF-40' ? { ...part, costCents: bookCents + 200 } : part,
    );
    const next = { ...suppliedBook, effectiveFrom: '2026-02-01T00:00:00Z', parts };
    expectStatus(await service.as('owner').post('/v1/price-books', next), 201);
    expect(await changeOf('TRF-40')).toBeUndefined();
  });

  it('goes page by page', async () => {
    for (const partCode of ['MOT-OUT', 'MOT-BLOW']) {
      const dear = { partCode, quantity: '1', amountCents: 99_900 };
      expectStatus(await enter(billOf(shop.shelvesId, dear)), 201);
    }
    const all = (await changes('?limit=100')).items;
    expect(all.length).toBeGreaterThan(1);
    const first = await changes('?limit=1');
    const second = await changes(`?limit=1&cursor=${first.nextCursor}`);
    expect([...first.items, ...second.items]).toEqual(all.slice(0, 2));
  });
});

describe('before there is a price book', () => {
  it('no bill can be held against it', async () => {
    const bare = await createTestService({ withPriceBook: false });
    try {
      const added = await bare
        .as('dispatcher')
        .post('/v1/stock-places', { name: 'Shelves', kind: 'shelves' });
      const bill = billOf(expectStatus(added, 201).body.id, capacitors);
      expectProblem(await bare.as('owner').post('/v1/supplier-bills', bill), 'no-price-book');
      expectProblem(await bare.as('owner').get('/v1/cost-changes'), 'no-price-book');
      expectProblem(await bare.as('owner').get('/v1/reorder-list'), 'no-price-book');
    } finally {
      await bare.close();
    }
  });
});
