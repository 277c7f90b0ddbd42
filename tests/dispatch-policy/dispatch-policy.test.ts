import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const path = '/v1/dispatch-policy';
let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
});
afterAll(() => service.close());

async function policy() {
  const read = expectStatus(await service.as('dispatcher').get(path), 200);
  return { body: read.body, tag: read.headers['etag'] ?? '' };
}

describe('how days are planned', () => {
  it('is as is usual until the owner says otherwise', async () => {
    expect((await policy()).body).toEqual({
      roadFactor: 1.3,
      mph: 28,
      parkMinutes: 5,
      usualMinutes: 75,
      windows: [480, 600, 720, 840, 960].map((startMinute) => ({
        ...{ startMinute, endMinute: startMinute + 120 },
      })),
      base: null,
      version: 1,
    });
  });

  it('the owner changes one figure, and the others stay', async () => {
    const before = await policy();
    const base = { latitudeDeg: 41.25, longitudeDeg: -95.5 };
    const owner = service.as('owner');
    const set = await owner.patch(path, { mph: 33.5, base }, { ifMatch: before.tag });
    const expected = { ...before.body, mph: 33.5, base, version: 2 };
    expect(expectStatus(set, 200).body).toEqual(expected);
    expect(await policy()).toEqual({ body: expected, tag: '"v2"' });
    const without = await owner.patch(path, { base: null }, { ifMatch: '"v2"' });
    expect(expectStatus(without, 200).body).toEqual({ ...expected, base: null, version: 3 });
  });

  it.each([
    ['the same window twice', { windows: [480, 480].map((at) => window(at, 600)) }],
    ['a window that ends before it starts', { windows: [window(600, 480)] }],
    ['no window', { windows: [] }],
    ['a road shorter than the crow flies', { roadFactor: 0.9 }],
    ['half a base', { base: { latitudeDeg: 41 } }],
  ])('refuses %s', async (_, change) => {
    const { tag } = await policy();
    const refused = await service.as('owner').patch(path, change, { ifMatch: tag });
    expectProblem(expectStatus(refused, 400), 'validation-failed');
  });

  it('of owners who change it at once each is told of the other, from the first time on', async () => {
    const fresh = await createTestService({ withPriceBook: false });
    try {
      for (let version = 1; version <= 10; version += 1) {
        const answers = await Promise.all(
          [20, 40, 50].map((mph) =>
            fresh.as('owner').patch(path, { mph }, { ifMatch: `"v${version}"` }),
          ),
        );
        expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412]);
        const won = answers.find(({ status }) => status === 200)?.body;
        expect((await fresh.as('owner').get(path)).body).toEqual(won);
      }
    } finally {
      await fresh.close();
    }
  });
});

function window(startMinute: number, endMinute: number) {
  return { startMinute, endMinute };
}
