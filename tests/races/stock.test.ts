import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arriveAtJob, type Job } from '../harness/job.ts';
import { billOf, levelAt, openShop, type Shop } from '../harness/shop.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

const CAPACITOR = 'CAP-45-5-440';
const AT_ONCE = 30;
const ROUNDS = 5;

let service: TestService;
let shop: Shop;
let jobs: Job[];
beforeAll(async () => {
  service = await createTestService();
  shop = await openShop(service);
  jobs = [await arriveAtJob(service), await arriveAtJob(service), await arriveAtJob(service)];
});
afterAll(() => service.close());

type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['post']>>;

function use(at: number, partCode = CAPACITOR, quantity = '1'): Promise<Answer> {
  const visitId = jobs[at % jobs.length]?.visitId;
  return service
    .as('owner')
    .post(`/v1/stock-places/${shop.truckId}/use`, { visitId, partCode, quantity });
}

function count(counted: number, partCode = CAPACITOR): Promise<Answer> {
  return service.as('owner').post(`/v1/stock-places/${shop.truckId}/count`, {
    partCode,
    counted: String(counted),
    reason: 'Weekly count.',
  });
}

const all = (answers: Answer[]) => answers.map((answer) => expectStatus(answer, 201).body);

async function sumOfMoves(placeId: string, partCode: string): Promise<string> {
  const found = await service.owner.query(
    `SELECT trim_scale(sum(quantity))::text AS sum FROM stock_move
     WHERE place_id = $1 AND part_code = $2`,
    [placeId, partCode],
  );
  return found.rows[0].sum;
}

describe('two who enter one bill at once', () => {
  it('have entered it once, and its goods are counted once', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const before = Number((await levelAt(service, shop.shelvesId, CAPACITOR)) ?? '0');
      const bill = billOf(shop.shelvesId, {
        partCode: CAPACITOR,
        quantity: '4',
        amountCents: 7_360,
      });
      const answers = await Promise.all(
        Array.from({ length: 8 }, () => service.as('dispatcher').post('/v1/supplier-bills', bill)),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(7).fill(409)]);
      const codes = answers.filter(({ status }) => status === 409).map(({ body }) => body.code);
      expect(new Set(codes)).toEqual(new Set(['already-exists']));
      expect(await levelAt(service, shop.shelvesId, CAPACITOR)).toBe(String(before + 4));
    }
  });

  it('have entered it once, however each of them spells the supplier', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const before = Number((await levelAt(service, shop.shelvesId, CAPACITOR)) ?? '0');
      const line = { partCode: CAPACITOR, quantity: '4', amountCents: 7_360 };
      // A house of its own in each round, because one that is known is spelled as at first.
      const bills = ['Fern House', 'FERN HOUSE', 'fern house', 'Fern HOUSE'].map((supplier) =>
        billOf(shop.shelvesId, line, { supplier: `${supplier} ${round}`, number: 'F-1' }),
      );
      const answers = await Promise.all(
        bills.map((bill) => service.as('dispatcher').post('/v1/supplier-bills', bill)),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409]);
      for (const { status, body } of answers) {
        if (status === 409) expect(body.code).toBe('already-exists');
      }
      expect(await levelAt(service, shop.shelvesId, CAPACITOR)).toBe(String(before + 4));
    }
  });

  it('from one file have it once too; the other is told, whichever way they met', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const rowsOf = (...houses: string[]) =>
        Array.from(
          { length: 20 },
          (_, at) =>
            `${houses[at % 2]} ${round},R-${at},2026-07-01,Shelves,FLOAT-1,,1,11.50,,11.50`,
        );
      const rows = rowsOf('Alder House', 'birch house');
      // Sorted as they stand, capitals first, these come the other way around.
      const mixed = rowsOf('alder house', 'Birch House');
      const file = (lines: string[]) =>
        Buffer.from(
          [
            'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total',
            ...lines,
          ].join('\n'),
        );
      const send = (lines: string[]) =>
        service.as('dispatcher').send('/v1/supplier-bills/load', 'text/csv', file(lines));
      const answers = await Promise.all([send(rows), send([...rows].reverse()), send(mixed)]);
      expect(answers.filter(({ status }) => status === 201)).toHaveLength(1);
      for (const { status, body } of answers.filter((answer) => answer.status !== 201)) {
        expect(['409 already-exists', '400 file-has-mistakes']).toContain(`${status} ${body.code}`);
      }
      expect(await levelAt(service, shop.shelvesId, 'FLOAT-1')).toBe(String(20 * (round + 1)));
    }
  });
});

describe('thirty who use one part at once', () => {
  it('leave exactly what is left, and each is told a level of its own', async () => {
    expectStatus(await count(100), 201);
    const moved = all(await Promise.all(Array.from({ length: AT_ONCE }, (_, at) => use(at))));
    expect(await levelAt(service, shop.truckId, CAPACITOR)).toBe('70');
    const levels = moved.map(({ level }) => Number(level)).sort((a, b) => a - b);
    expect(levels).toEqual(Array.from({ length: AT_ONCE }, (_, at) => 70 + at));
  });

  it('by measure lose no thousandth', async () => {
    all(
      await Promise.all(
        Array.from({ length: AT_ONCE }, (_, at) => use(at, 'REF-R-410A', `0.${101 + at}`)),
      ),
    );
    // 101 + 102 + ... + 130 thousandths.
    expect(await levelAt(service, shop.truckId, 'REF-R-410A')).toBe('-3.465');
  });
});

describe('a count while parts are used', () => {
  it('is right as if every use had come before it or after it', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      expectStatus(await count(50), 201);
      const uses = Array.from({ length: 10 }, (_, at) => use(at));
      const [counted, ...moved] = await Promise.all([count(40), ...uses]);
      all(moved);
      expectStatus(counted, 201);
      const level = Number(await levelAt(service, shop.truckId, CAPACITOR));
      // None or all of the ten came after the count of forty.
      expect(level).toBeGreaterThanOrEqual(30);
      expect(level).toBeLessThanOrEqual(40);
      expect(await sumOfMoves(shop.truckId, CAPACITOR)).toBe(String(level));
    }
  });

  it('by two at once mends the difference once', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      expectStatus(await count(50), 201);
      all(await Promise.all(Array.from({ length: 6 }, () => count(40))));
      expect(await levelAt(service, shop.truckId, CAPACITOR)).toBe('40');
    }
  });
});

describe('two who bring back the same part at once', () => {
  it('bring back what was used, and not more', async () => {
    const visitId = jobs[0]?.visitId;
    const body = { visitId, partCode: 'TRF-40', quantity: '1' };
    const post = (verb: string) =>
      service.as('owner').post(`/v1/stock-places/${shop.truckId}/${verb}`, body);
    expectStatus(await post('use'), 201);
    const answers = await Promise.all(Array.from({ length: 6 }, () => post('bring-back')));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(5).fill(400)]);
    expect(await levelAt(service, shop.truckId, 'TRF-40')).toBe('0');
  });
});

describe('parts carried both ways at once', () => {
  it('are all somewhere: nobody waits for each other in a circle', async () => {
    const carry = (from: string, toPlaceId: string) =>
      service.as('dispatcher').post(`/v1/stock-places/${from}/carry`, {
        toPlaceId,
        partCode: 'DRIER-3',
        quantity: '1',
      });
    all(
      await Promise.all(
        Array.from({ length: AT_ONCE }, (_, at) =>
          at % 3 === 0 ? carry(shop.shelvesId, shop.truckId) : carry(shop.truckId, shop.shelvesId),
        ),
      ),
    );
    expect(await levelAt(service, shop.shelvesId, 'DRIER-3')).toBe('10');
    expect(await levelAt(service, shop.truckId, 'DRIER-3')).toBe('-10');
  });
});

describe('those who change one place at once', () => {
  it('leave one change; the others are told', async () => {
    const path = `/v1/stock-places/${shop.shelvesId}`;
    for (let round = 0; round < ROUNDS; round += 1) {
      const ifMatch = (await service.as('owner').get(path)).headers['etag'] ?? '';
      const names = Array.from({ length: 4 }, (_, at) => `Shelves ${round} ${at}`);
      const answers = await Promise.all(
        names.map((name) => service.as('owner').patch(path, { name }, { ifMatch })),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412]);
    }
  });
});
