import { billOf } from '../../harness/shop.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Prepared, Recipe, World } from '../world.ts';

const partCode = 'CAP-45-5-440';
const levels = { reorderAt: '1', orderUpTo: '4' };

const BILL_COLUMNS =
  'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total';

/** Shelves on which nothing lies. */
async function newPlace({ service, next }: World): Promise<string> {
  const place = { name: `Loft ${next()}`, kind: 'shelves' };
  return expectStatus(await service.as('dispatcher').post('/v1/stock-places', place), 201).body.id;
}

async function targeted(world: World): Promise<Prepared> {
  const placeId = await newPlace(world);
  const path = `/v1/stock-places/${placeId}/targets`;
  const target = { partCode, ...levels };
  expectStatus(await world.service.as('dispatcher').post(path, target), 201);
  return { params: { placeId, partCode } };
}

const atShelves =
  (bodyOf: (world: World) => Record<string, unknown>): Recipe =>
  async (world) => ({
    params: { placeId: world.home.shelvesId },
    body: bodyOf(world),
    lasts: true,
  });

/** What is bought, where it lies, and what goes to a job. */
export const supplyRecipes: Readonly<Record<string, Recipe>> = {
  enterSupplierBill: async ({ home }) => ({
    body: billOf(home.shelvesId, { partCode, quantity: '4', amountCents: 7_360 }),
  }),
  loadSupplierBills: async ({ next }) => {
    const row = `Tansy and Reed,F-${next()},2026-07-02,Shelves,FLOAT-1,,2,23.10,,23.10`;
    const bytes = Buffer.from(`${BILL_COLUMNS}\r\n${row}`);
    return { file: { mediaType: 'text/csv', bytes } };
  },
  getSupplierBill: async ({ service, home }) => {
    const bill = billOf(home.shelvesId, { partCode, quantity: '4', amountCents: 7_360 });
    const made = await service.as('dispatcher').post('/v1/supplier-bills', bill);
    return { params: { billId: expectStatus(made, 201).body.id }, lasts: true };
  },
  addStockPlace: async ({ next }) => ({ body: { name: `Attic ${next()}`, kind: 'shelves' } }),
  changeStockPlace: async (world) => ({
    params: { placeId: await newPlace(world) },
    body: { name: `Cellar ${world.next()}` },
    lasts: true,
  }),
  usePart: atShelves(({ home }) => ({ visitId: home.visitId, partCode, quantity: '3' })),
  bringBackPart: async (world) => {
    const { service, home } = world;
    const used = { visitId: home.visitId, partCode, quantity: '1' };
    const path = `/v1/stock-places/${home.shelvesId}/use`;
    expectStatus(await service.as('dispatcher').post(path, used), 201);
    return { params: { placeId: home.shelvesId }, body: used };
  },
  carryPart: atShelves(({ home }) => ({ toPlaceId: home.truckId, partCode, quantity: '1' })),
  countPart: atShelves(() => ({ partCode, counted: '2', reason: 'Weekly count.' })),
  addStockTarget: async (world) => ({
    params: { placeId: await newPlace(world) },
    body: { partCode, ...levels },
  }),
  getStockTarget: async (world) => ({ ...(await targeted(world)), lasts: true }),
  changeStockTarget: async (world) => ({
    ...(await targeted(world)),
    body: { ...levels, orderUpTo: '6' },
    lasts: true,
  }),
  endStockTarget: targeted,
};
