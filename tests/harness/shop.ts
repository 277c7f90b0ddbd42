import { priceBook } from '../../seed/price-book.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** Two suppliers and three places with stock. */
export interface Shop {
  shelvesId: string;
  /** Of the technician. */
  truckId: string;
  otherTruckId: string;
}

/** Invented. */
export const [larkmoor, tansy] = ['Larkmoor Supply', 'Tansy and Reed'] as const;

/** What these tests buy: 18.40 and 11.50 a piece; 310.00 a cylinder of 25 pounds. */
const bought: Record<string, { supplier: string; costCents: number }> = {
  'CAP-45-5-440': { supplier: larkmoor, costCents: 1_840 },
  'REF-R-410A': { supplier: larkmoor, costCents: 31_000 },
  'FLOAT-1': { supplier: tansy, costCents: 1_150 },
};

/** The invented book with suppliers and with known costs. */
export const suppliedBook = {
  ...priceBook,
  effectiveFrom: '2026-01-01T00:00:00Z',
  parts: (priceBook.parts ?? []).map((part) => ({ ...part, ...bought[part.code] })),
};

/** Publishes the book with suppliers and adds shelves and two trucks. */
export async function openShop(service: TestService): Promise<Shop> {
  expectStatus(await service.as('owner').post('/v1/price-books', suppliedBook), 201);
  const { technician, second_technician } = service.staff;
  const add = async (place: object): Promise<string> =>
    expectStatus(await service.as('dispatcher').post('/v1/stock-places', place), 201).body.id;
  return {
    shelvesId: await add({ name: 'Shelves', kind: 'shelves' }),
    truckId: await add({ name: 'Truck 1', kind: 'truck', technicianId: technician.id }),
    otherTruckId: await add({ name: 'Truck 2', kind: 'truck', technicianId: second_technician.id }),
  };
}

let numbers = 0;

/** A bill of one line that adds up, with a number of its own. */
export function billOf(
  placeId: string,
  line: { partCode?: string; description?: string; quantity: string; amountCents: number },
  change: object = {},
) {
  numbers += 1;
  return {
    supplier: larkmoor,
    number: `L-${numbers}`,
    billedOn: '2026-07-01',
    placeId,
    lines: [line],
    otherCents: 350,
    totalCents: line.amountCents + 350,
    ...change,
  };
}

/** What should lie at a place of a part, as the owner sees it. */
export async function levelAt(
  service: TestService,
  placeId: string,
  partCode: string,
): Promise<string | undefined> {
  const stock = await service.as('owner').get(`/v1/stock-places/${placeId}/stock?limit=100`);
  const found = expectStatus(stock, 200).body.items.find(
    (each: { partCode: string }) => each.partCode === partCode,
  );
  return found?.level;
}
