import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { billOf, larkmoor, levelAt, openShop, type Shop, tansy } from '../harness/shop.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const HEADER =
  'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total';

let service: TestService;
let shop: Shop;
beforeAll(async () => {
  service = await createTestService();
  shop = await openShop(service);
});
afterAll(() => service.close());

function load(...lines: string[]) {
  const file = Buffer.from([HEADER, ...lines].join('\r\n'));
  return service.as('dispatcher').send('/v1/supplier-bills/load', 'text/csv', file);
}

async function billCount(): Promise<number> {
  const found = await service.owner.query('SELECT count(*)::int AS n FROM supplier_bill');
  return found.rows[0].n;
}

describe('a file of bills', () => {
  it('brings every bill in it, as if each were entered by hand', async () => {
    const loaded = await load(
      `${larkmoor},A-1,2026-07-01,Shelves,CAP-45-5-440,,10,"$2,024.00",12.50,2123.00`,
      `${larkmoor},A-1,,,,"Rags, a bale",1,90,,`,
      `${tansy},A-1,7/2/2026,Truck 1,FLOAT-1,Float switch,2,23.10,,23.10`,
      // A row of the first bill again, which says its head once more.
      `${larkmoor.toUpperCase()},A-1,7/1/2026,Shelves,FLOAT-1,,-1,-3.50,12.5,"2,123"`,
    );
    const { bills } = expectStatus(loaded, 201).body;
    expect(bills).toMatchObject([
      {
        supplier: larkmoor,
        number: 'A-1',
        billedOn: '2026-07-01',
        placeId: shop.shelvesId,
        otherCents: 1_250,
        totalCents: 212_300,
        lines: [
          { partCode: 'CAP-45-5-440', quantity: '10', amountCents: 202_400 },
          { partCode: null, description: 'Rags, a bale', amountCents: 9_000, unitCost: null },
          { partCode: 'FLOAT-1', quantity: '-1', amountCents: -350 },
        ],
      },
      {
        supplier: tansy,
        billedOn: '2026-07-02',
        placeId: shop.truckId,
        otherCents: 0,
        lines: [{ description: 'Float switch', unitCost: { billedCents: 1_155 } }],
      },
    ]);
    expect(await levelAt(service, shop.shelvesId, 'CAP-45-5-440')).toBe('10');
    expect(await levelAt(service, shop.shelvesId, 'FLOAT-1')).toBe('-1');
    expect(await levelAt(service, shop.truckId, 'FLOAT-1')).toBe('2');
    const path = `/v1/supplier-bills/${bills[0].id}`;
    expect((await service.as('dispatcher').get(path)).body).toEqual(bills[0]);
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${bills[1].id}`);
    expect(journal.body.items).toHaveLength(1);
  });

  it('is taken whole or not at all, and every mistake is named by line and column', async () => {
    const before = await billCount();
    const refused = await load(
      `${larkmoor},B-1,2026-07-01,Shelves,CAP-45-5-440,,1,18.40,,18.40`,
      `${larkmoor},B-2,2026-02-30,Shelves,CAP-45-5-440,,1x,about 20,,18.40`,
      `,B-3,2026-07-01,Shelves,,,1,18.40,,18.40`,
      `${larkmoor},B-4,2026-07-01,Shelves,CAP-45-5-440,,-1,18.40,,18.40`,
    );
    expectProblem(refused, 'file-has-mistakes');
    const where = refused.body.mistakes.map(
      ({ line, column }: { line: number; column: string }) => `${line} ${column}`,
    );
    expect(where.sort()).toEqual([
      '3 amount',
      '3 billed_on',
      '3 quantity',
      '4 description',
      '4 supplier',
      '5 amount',
    ]);
    expect(refused.body.more).toBe(0);
    expect(await billCount()).toBe(before);
  });

  const good = `${larkmoor},C-1,2026-07-01,Shelves,CAP-45-5-440,,1,18.40,,18.40`;

  it.each<[string, string[], number, string, RegExp]>([
    [
      'a bill that does not add up',
      [good, `${larkmoor},C-2,2026-07-01,Shelves,CAP-45-5-440,,1,18.40,1.00,18.40`],
      3,
      'total',
      /come to \$19\.40, which is \$1\.00 more/,
    ],
    [
      'a code that the book does not have',
      [good, `${larkmoor},C-1,,,CAP-99,,1,1.00,,`],
      3,
      'part_code',
      /no part of the price book/,
    ],
    [
      'part of a piece',
      [`${larkmoor},C-1,2026-07-01,Shelves,CAP-45-5-440,,0.5,18.40,,18.40`],
      2,
      'quantity',
      /must be whole/,
    ],
    [
      'a place that is not there',
      [`${larkmoor},C-1,2026-07-01,Attic,CAP-45-5-440,,1,18.40,,18.40`],
      2,
      'place',
      /no such place/,
    ],
    [
      'a bill without its total',
      [`${larkmoor},C-1,2026-07-01,Shelves,CAP-45-5-440,,1,18.40,,`],
      2,
      'total',
      /is missing/,
    ],
    [
      'a second row that says another day',
      [good, `${larkmoor},C-1,2026-07-02,,,Rags,1,1.00,,`],
      3,
      'billed_on',
      /not what line 2 says/,
    ],
    [
      'a day to come',
      [`${larkmoor},C-1,2026-07-15,Shelves,CAP-45-5-440,,1,18.40,,18.40`],
      2,
      'billed_on',
      /in the future/,
    ],
    ['three decimals', [good.replace('18.40', '18.405')], 2, 'amount', /amount in dollars/],
    ['a comma out of place', [good.replace('18.40', '"1,8.40"')], 2, 'amount', /in dollars/],
  ])('with %s is refused where it stands', async (_, lines, line, column, message) => {
    const before = await billCount();
    const refused = expectProblem(await load(...lines), 'file-has-mistakes');
    expect(refused.body.mistakes).toContainEqual({
      line,
      column,
      message: expect.stringMatching(message),
    });
    expect(await billCount()).toBe(before);
  });

  it('never brings a bill again, whoever entered it and however its supplier is written', async () => {
    const capacitor = { partCode: 'CAP-45-5-440', quantity: '1', amountCents: 1_840 };
    const bill = billOf(shop.shelvesId, capacitor);
    expectStatus(await service.as('owner').post('/v1/supplier-bills', bill), 201);
    const again = `${larkmoor.toLowerCase()},${bill.number},2026-07-01,Shelves,,Rags,1,1.00,,1.00`;
    const refused = expectProblem(await load(good, again), 'file-has-mistakes');
    expect(refused.body.mistakes).toMatchObject([{ line: 3, column: 'number' }]);
  });

  it.each([
    ['without its columns', 'supplier,number\r\nA,1', null],
    ['that is empty', '', undefined],
    ['that is no UTF-8', Buffer.from([0xff, 0xfe, 0x41]), null],
  ])('%s is refused', async (_, content, column) => {
    const refused = await service
      .as('dispatcher')
      .send('/v1/supplier-bills/load', 'text/csv', Buffer.from(content));
    expectProblem(refused, column === undefined ? 'validation-failed' : 'file-has-mistakes');
  });

  it('takes its limit of rows from rows that hold something', async () => {
    const blank = Array.from({ length: 2_001 }, () => ' ,,,,,,,,,');
    expectStatus(await load(...blank, good.replace('C-1', 'C-9'), ...blank), 201);
  });

  it('that is no CSV by its own word is not read', async () => {
    const file = Buffer.from(`${HEADER}\r\n${good}`);
    const refused = await service
      .as('dispatcher')
      .send('/v1/supplier-bills/load', 'application/json', file);
    expectProblem(refused, 'unsupported-media-type');
  });

  it('of five hundred bills is taken in one act', async () => {
    const before = await billCount();
    const rows = Array.from(
      { length: 500 },
      (_, at) => `${tansy},M-${at},2026-06-01,Shelves,FLOAT-1,,1,11.50,,11.50`,
    );
    const loaded = await load(...rows);
    expect(expectStatus(loaded, 201).body.bills).toHaveLength(500);
    expect(await billCount()).toBe(before + 500);
    expect(await levelAt(service, shop.shelvesId, 'FLOAT-1')).toBe('499');
  });
});
