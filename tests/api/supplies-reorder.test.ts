import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { billOf, larkmoor, openShop, type Shop, suppliedBook, tansy } from '../harness/shop.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

let service: TestService;
let shop: Shop;
beforeAll(async () => {
  service = await createTestService();
  shop = await openShop(service);
  await target(shop.truckId, 'CAP-45-5-440', '2', '6');
  await target(shop.otherTruckId, 'CAP-45-5-440', '2', '5');
  await target(shop.shelvesId, 'REF-R-410A', '10', '60');
  await target(shop.truckId, 'REF-R-410A', '5', '12.5');
  await target(shop.shelvesId, 'FLOAT-1', '0', '3');
  await target(shop.shelvesId, 'PAN-30', '1', '2');
  await target(shop.shelvesId, 'TRF-40', '1', '2');
  await bring(shop.truckId, 'CAP-45-5-440', '2');
  await bring(shop.otherTruckId, 'CAP-45-5-440', '3');
  await bring(shop.shelvesId, 'REF-R-410A', '9.5');
  await bring(shop.shelvesId, 'FLOAT-1', '-1');
  await bring(shop.shelvesId, 'TRF-40', '2');
});
afterAll(() => service.close());

async function target(placeId: string, partCode: string, reorderAt: string, orderUpTo: string) {
  const path = `/v1/stock-places/${placeId}/targets`;
  const body = { partCode, reorderAt, orderUpTo };
  expectStatus(await service.as('dispatcher').post(path, body), 201);
}

async function bring(placeId: string, partCode: string, quantity: string) {
  const amountCents = quantity.startsWith('-') ? -1_000 : 1_000;
  const bill = billOf(placeId, { partCode, quantity, amountCents });
  expectStatus(await service.as('dispatcher').post('/v1/supplier-bills', bill), 201);
}

const list = async (query = '') =>
  expectStatus(await service.as('owner').get(`/v1/reorder-list${query}`), 200).body;

// By hand: truck 1 has 2 of 6 capacitors, so 4 at 18.40 = 73.60; truck 2 has 3 and its point is 2.
// Shelves have 9.5 of 60 lb: 50.5 lb missing, 3 cylinders of 25 = 75 lb, 930.00; truck 1 has 0 of
// 12.5: one cylinder, 310.00. Of float switches 1 is owed: 4 at 11.50 = 46.00.
describe('the reorder list', () => {
  it('says supplier by supplier what to order, for which place, and what it will cost', async () => {
    const { suppliers, notInBook } = await list();
    expect(suppliers).toMatchObject([
      {
        supplier: larkmoor,
        costCents: 7_360 + 93_000 + 31_000,
        parts: [
          {
            partCode: 'CAP-45-5-440',
            unit: null,
            quantity: '4',
            packs: null,
            costCents: 7_360,
            places: [{ placeId: shop.truckId, level: '2', reorderAt: '2', quantity: '4' }],
          },
          {
            partCode: 'REF-R-410A',
            unit: '[lb_av]',
            packQuantity: '25',
            quantity: '100',
            packs: 4,
            costCents: 124_000,
            places: [
              { placeName: 'Shelves', level: '9.5', quantity: '75', packs: 3, costCents: 93_000 },
              { placeName: 'Truck 1', level: '0', quantity: '25', packs: 1, costCents: 31_000 },
            ],
          },
        ],
      },
      {
        supplier: tansy,
        costCents: 4_600,
        parts: [{ partCode: 'FLOAT-1', quantity: '4', places: [{ level: '-1' }] }],
      },
      { supplier: null, parts: [{ partCode: 'PAN-30', quantity: '2' }] },
    ]);
    expect(notInBook).toEqual([]);
  });

  it('can be asked for one place', async () => {
    const { suppliers } = await list(`?placeId=${shop.truckId}`);
    expect(suppliers).toMatchObject([{ supplier: larkmoor, costCents: 38_360 }]);
    expect(await list(`?placeId=${shop.otherTruckId}`)).toEqual({ suppliers: [], notInBook: [] });
  });

  it('is also a table that a spreadsheet opens, amounts in dollars', async () => {
    const table = await service.as('owner').get('/v1/reorder-list/csv');
    const { text, headers } = expectStatus(table, 200);
    expect(headers['content-disposition']).toBe('attachment; filename="reorder-list.csv"');
    const rows = text.replace(/^\ufeff/, '').split('\r\n');
    expect(rows[0]).toBe(
      'supplier,part_code,name,place,level,reorder_at,order_up_to,order,packs,cost',
    );
    expect(rows).toContain(
      `${larkmoor},REF-R-410A,Refrigerant R-410A,Shelves,9.5,10,60,75 lb,3,930.00`,
    );
    // What would start a formula is guarded, a negative level too.
    expect(rows).toContain(`${tansy},FLOAT-1,Float switch,Shelves,'-1,0,3,4,,46.00`);
    expect(rows).toHaveLength(1 + 5 + 1);
    const unchanged = { 'if-none-match': headers['etag'] ?? '' };
    expectStatus(await service.as('owner').get('/v1/reorder-list/csv', unchanged), 304);
  });

  it('is the same for the office without what anything costs, as a table too', async () => {
    const withoutCosts = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(withoutCosts);
      if (typeof value !== 'object' || value === null) return value;
      const kept = Object.entries(value).filter(([name]) => name !== 'costCents');
      return Object.fromEntries(kept.map(([name, inner]) => [name, withoutCosts(inner)]));
    };
    const seen = await service.as('dispatcher').get('/v1/reorder-list');
    expect(expectStatus(seen, 200).body).toEqual(withoutCosts(await list()));
    const table = await service.as('dispatcher').get('/v1/reorder-list/csv');
    const rows = expectStatus(table, 200)
      .text.replace(/^\ufeff/, '')
      .split('\r\n');
    expect(rows[0]).toBe('supplier,part_code,name,place,level,reorder_at,order_up_to,order,packs');
    expect(rows).toContain(`${larkmoor},REF-R-410A,Refrigerant R-410A,Shelves,9.5,10,60,75 lb,3`);
    expect(rows).toHaveLength(1 + 5 + 1);
  });

  it('takes what it costs from the book in force, and lists apart what left the book', async () => {
    const parts = suppliedBook.parts
      .filter(({ code }) => code !== 'FLOAT-1')
      .map((part) => (part.code === 'CAP-45-5-440' ? { ...part, costCents: 2_000 } : part));
    const next = { ...suppliedBook, effectiveFrom: '2026-02-01T00:00:00Z', parts };
    expectStatus(await service.as('owner').post('/v1/price-books', next), 201);
    const { suppliers, notInBook } = await list();
    expect(suppliers[0].parts[0]).toMatchObject({ partCode: 'CAP-45-5-440', costCents: 8_000 });
    expect(notInBook).toEqual([
      {
        partCode: 'FLOAT-1',
        placeId: shop.shelvesId,
        placeName: 'Shelves',
        level: '-1',
        reorderAt: '0',
        orderUpTo: '3',
      },
    ]);
  });

  it('of a target and a pack that cannot both be meant says no cost, but what it would be', async () => {
    // A thousand million packs at 20,000,000.00: more cents than a number holds exactly.
    const parts = suppliedBook.parts.map((part) =>
      part.code === 'REF-R-410A'
        ? {
            ...part,
            costCents: 2_000_000_000,
            measured: { unit: '[lb_av]', packQuantity: '0.001' },
          }
        : part,
    );
    const next = { ...suppliedBook, effectiveFrom: '2026-03-01T00:00:00Z', parts };
    expectStatus(await service.as('owner').post('/v1/price-books', next), 201);
    await target(shop.otherTruckId, 'REF-R-410A', '0', '999999.999');
    const { suppliers } = await list(`?placeId=${shop.otherTruckId}`);
    expect(suppliers).toMatchObject([
      {
        supplier: larkmoor,
        costCents: null,
        parts: [
          {
            costCents: null,
            places: [{ packs: 999_999_999, quantity: '999999.999', costCents: null }],
          },
        ],
      },
    ]);
    const table = await service
      .as('owner')
      .get(`/v1/reorder-list/csv?placeId=${shop.otherTruckId}`);
    expect(expectStatus(table, 200).text).toContain(',999999.999 lb,999999999,\r\n');
  });
});
