import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arriveAtJob, type Job } from '../harness/job.ts';
import { billOf, openShop } from '../harness/shop.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

/** Pieces and measured goods; quantities are counted here in thousandths. */
const PARTS = [
  { code: 'CAP-45-5-440', step: 1_000 },
  { code: 'REF-R-410A', step: 1 },
] as const;

let service: TestService;
let places: string[];
let job: Job;
beforeAll(async () => {
  service = await createTestService();
  const shop = await openShop(service);
  places = [shop.shelvesId, shop.truckId, shop.otherTruckId];
  job = await arriveAtJob(service);
});
afterAll(() => service.close());

const act = fc.record({
  verb: fc.constantFrom('bill', 'return', 'use', 'bring-back', 'carry', 'count'),
  part: fc.constantFrom(...PARTS),
  place: fc.nat({ max: 2 }),
  other: fc.nat({ max: 2 }),
  times: fc.integer({ min: 1, max: 40 }),
});
type Act = typeof act extends fc.Arbitrary<infer A> ? A : never;

/** What should lie where, and what is still used on the visit, by a second count in plain numbers. */
class Ledger {
  readonly levels = new Map<string, number>();
  readonly used = new Map<string, number>();

  at(place: number, code: string): number {
    return this.levels.get(`${places[place]} ${code}`) ?? 0;
  }

  move(place: number, code: string, thousandths: number): void {
    this.levels.set(`${places[place]} ${code}`, this.at(place, code) + thousandths);
  }
}

/** Does it at the service and in the ledger; what is refused changes neither. */
async function perform({ verb, part, place, other, times }: Act, ledger: Ledger): Promise<void> {
  const { code } = part;
  const amount = part.step * times;
  const quantity = String(amount / 1_000);
  const owner = service.as('owner');
  const send = async (path: string, body: object) => (await owner.post(path, body)).status;
  const at = (what: string, body: object) =>
    send(`/v1/stock-places/${places[place]}/${what}`, { partCode: code, ...body });
  switch (verb) {
    case 'bill':
    case 'return': {
      const sign = verb === 'bill' ? 1 : -1;
      const line = {
        partCode: code,
        quantity: sign === 1 ? quantity : `-${quantity}`,
        amountCents: sign * 500,
      };
      expect(await send('/v1/supplier-bills', billOf(places[place] ?? '', line))).toBe(201);
      return ledger.move(place, code, sign * amount);
    }
    case 'use': {
      expect(await at('use', { quantity, visitId: job.visitId })).toBe(201);
      ledger.used.set(code, (ledger.used.get(code) ?? 0) + amount);
      return ledger.move(place, code, -amount);
    }
    case 'bring-back': {
      const used = ledger.used.get(code) ?? 0;
      const status = await at('bring-back', { quantity, visitId: job.visitId });
      expect(status).toBe(amount <= used ? 201 : 400);
      if (status !== 201) return;
      ledger.used.set(code, used - amount);
      return ledger.move(place, code, amount);
    }
    case 'carry': {
      const status = await at('carry', { quantity, toPlaceId: places[other] });
      expect(status).toBe(place === other ? 400 : 201);
      if (status !== 201) return;
      ledger.move(place, code, -amount);
      return ledger.move(other, code, amount);
    }
    case 'count': {
      expect(await at('count', { counted: quantity, reason: 'A count.' })).toBe(201);
      return ledger.move(place, code, amount - ledger.at(place, code));
    }
  }
}

describe('what should lie somewhere', () => {
  it('is the sum of all that ever moved there, whatever was done in whatever order', async () => {
    const ledger = new Ledger();
    await fc.assert(
      fc.asyncProperty(fc.array(act, { minLength: 4, maxLength: 12 }), async (acts) => {
        for (const each of acts) await perform(each, ledger);
        expect(await stored(SUMS)).toEqual(await stored(LEVELS));
        expect(await stored(LEVELS)).toEqual(ledgerRows(ledger));
      }),
      // A failing run cannot be shrunk: what was done before stays done.
      { numRuns: 8, endOnFailure: true },
    );
  });
});

function ledgerRows({ levels }: Ledger): string[] {
  return [...levels].map(([key, thousandths]) => `${key} ${thousandths}`).sort();
}

async function stored(statement: string): Promise<string[]> {
  const found = await service.owner.query<{ row: string }>(statement);
  return found.rows.map(({ row }) => row).sort();
}

const SUMS = `
  SELECT place_id || ' ' || part_code || ' ' || (sum(quantity) * 1000)::int AS row
  FROM stock_move GROUP BY place_id, part_code`;
const LEVELS = `
  SELECT place_id || ' ' || part_code || ' ' || (quantity * 1000)::int AS row FROM stock_level`;
