import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestService, expectProblem, type TestService } from '../../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

async function addCustomers(count: number): Promise<string[]> {
  const ids: string[] = [];
  for (let at = 0; at < count; at += 1) {
    const caller = { name: `Caller ${at}`, phone: '555-0111' };
    ids.push((await service.as('dispatcher').post('/v1/customers', caller)).body.id);
  }
  return ids;
}

/** Walks a list to its end; `between` happens after every page. */
async function walk(path: string, between: () => Promise<unknown>): Promise<string[]> {
  const seen: string[] = [];
  for (let cursor = ''; ; ) {
    const page = await service.as('dispatcher').get(`${path}${cursor}`);
    seen.push(...page.body.items.map(({ id }: { id: string }) => id));
    if (page.body.nextCursor === null) return seen;
    cursor = `&cursor=${page.body.nextCursor}`;
    await between();
  }
}

describe('a list walked page by page', () => {
  it('neither skips nor repeats what was there, while others add to it', async () => {
    const before = await addCustomers(12);
    let added = 0;
    const seen = await walk('/v1/customers?limit=3', async () => {
      if (added < 3) await addCustomers(1);
      added += 1;
    });
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen.filter((id) => before.includes(id))).toEqual(before);
  });

  it('ends with a page without cursor, also when the last page is exactly full', async () => {
    const ids = await walk('/v1/customers?limit=100', async () => undefined);
    const page = await service.as('dispatcher').get(`/v1/customers?limit=${ids.length}`);
    expect(page.body.items).toHaveLength(ids.length);
    expect(page.body.nextCursor).toBeNull();
  });

  it('is one empty page when there is nothing', async () => {
    const page = await service.as('owner').get('/v1/quotes');
    expect(page.body).toEqual({ items: [], nextCursor: null });
  });

  it('gives a hundred at most, however many are asked for', async () => {
    await addCustomers(101);
    const page = await service.as('dispatcher').get('/v1/customers?limit=1000');
    expect(page.body.items).toHaveLength(100);
    expect(page.body.nextCursor).not.toBeNull();
  });

  it.each(['0', '-1', 'many', '1.5', ''])('refuses limit=%s', async (limit) => {
    const refused = await service.as('dispatcher').get(`/v1/customers?limit=${limit}`);
    expectProblem(refused, 'validation-failed');
    expect(refused.body.errors).toEqual([
      expect.objectContaining({ in: 'query', pointer: '/limit' }),
    ]);
  });
});

describe('a cursor', () => {
  async function cursorOf(path: string): Promise<string> {
    return (await service.as('dispatcher').get(path)).body.nextCursor;
  }

  it.each([
    ['another list', '/v1/staff?limit=1'],
    ['another filter', '/v1/customers?limit=1&search=Call'],
  ])('of %s is refused', async (_, path) => {
    await addCustomers(2);
    const cursor = await cursorOf(path);
    expect(cursor).toEqual(expect.any(String));
    expectProblem(
      await service.as('dispatcher').get(`/v1/customers?cursor=${cursor}`),
      'cursor-invalid',
    );
  });

  it.each(['bm93aGVyZQ', 'AAAA', '%00', '1'])('made up, such as %s, is refused', async (cursor) => {
    expectProblem(
      await service.as('dispatcher').get(`/v1/customers?cursor=${cursor}`),
      'cursor-invalid',
    );
  });

  it('may be used with another page size', async () => {
    const cursor = await cursorOf('/v1/customers?limit=1');
    const page = await service.as('dispatcher').get(`/v1/customers?limit=7&cursor=${cursor}`);
    expect(page.body.items).toHaveLength(7);
  });
});
