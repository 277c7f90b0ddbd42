import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
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
const codes = (body: { items: { code: string }[] }) => body.items.map(({ code }) => code);
const publish = (change: object) => owner().post('/v1/price-books', { ...priceBook, ...change });

describe('the owner sees every price book and tax rule', () => {
  it('past, present and to come, without their lists', async () => {
    const next = expectStatus(await publish({ effectiveFrom: '2030-01-01T06:00:00Z' }), 201);
    const { body } = expectStatus(await owner().get('/v1/price-books?order=newest'), 200);
    expect(body.items.map(({ number }: { number: number }) => number)).toEqual([2, 1]);
    const { id, number, effectiveFrom, publishedAt, laborRateCents } = next.body;
    expect(body.items[0]).toEqual({ id, number, effectiveFrom, publishedAt, laborRateCents });
  });

  it('the tax rules of a jurisdiction, with the day an old one ended', async () => {
    const raised = { ...taxRule, rate: '0.085', effectiveFrom: '2030-01-01' };
    const added = expectStatus(await owner().post('/v1/tax-rules', raised), 201);
    const path = `/v1/tax-rules?jurisdiction=${taxRule.jurisdiction}`;
    const { body } = expectStatus(await owner().get(path), 200);
    expect(body.items).toEqual([
      {
        ...taxRule,
        id: expect.any(String),
        separateAboveShare: null,
        effectiveTo: '2030-01-01',
      },
      added.body,
    ]);
    expect((await owner().get('/v1/tax-rules?jurisdiction=elsewhere')).body.items).toEqual([]);
  });
});

describe('a price book that could never take force', () => {
  it('because an earlier one took effect later, is refused in words', async () => {
    const before = new Date(Date.parse(priceBook.effectiveFrom) - 1).toISOString();
    const refused = expectProblem(await publish({ effectiveFrom: before }), 'validation-failed');
    expect(refused.body.errors).toEqual([
      expect.objectContaining({
        pointer: '/effectiveFrom',
        message: expect.stringContaining('it could never take force'),
      }),
    ]);
  });

  it('is told from a correction of the same day, which takes force at once', async () => {
    const corrected = expectStatus(await publish({}), 201);
    const { body } = await owner().get('/v1/price-books/in-force');
    expect(body.id).toBe(corrected.body.id);
  });
});

describe('the parts of the price book', () => {
  const all = priceBook.parts.map(({ code }) => code).sort();

  it('are walked page by page, in the order of their codes', async () => {
    const technician = service.as('technician');
    const seen: string[] = [];
    for (let cursor = ''; ; ) {
      const { body } = expectStatus(await technician.get(`/v1/parts?limit=3${cursor}`), 200);
      seen.push(...codes(body));
      if (body.nextCursor === null) break;
      cursor = `&cursor=${body.nextCursor}`;
    }
    expect(seen.toSorted()).toEqual(all);
  });

  it('are found by a piece of their code or name, in any case, and not by a wildcard', async () => {
    const technician = service.as('technician');
    const find = async (search: string) =>
      codes((await technician.get(`/v1/parts?search=${encodeURIComponent(search)}`)).body);
    const [part] = priceBook.parts;
    if (part === undefined) throw new Error('the invented price book has parts');
    expect(await find(part.code.toLowerCase())).toContain(part.code);
    expect(
      await find(part.name.slice(1).replace(/[a-z]/g, (letter) => letter.toUpperCase())),
    ).toContain(part.code);
    expect(await find('%')).toEqual([]);
    expect(await find('nothing like it')).toEqual([]);
  });

  it('of the next book have cursors of their own', async () => {
    const first = await service.as('technician').get('/v1/parts?limit=1');
    expectStatus(await publish({}), 201);
    const next = `/v1/parts?limit=1&cursor=${first.body.nextCursor}`;
    expectProblem(await service.as('technician').get(next), 'cursor-invalid');
  });
});

describe('a price book as long as a supplier’s catalog', () => {
  const [part] = priceBook.parts;
  const catalog = (count: number) => ({
    ...priceBook,
    parts: Array.from({ length: count }, (_, at) => ({ ...part, code: `SUPPLIER-${at}` })),
  });

  it('is published, though it is larger than what other requests may send', async () => {
    const book = catalog(50_000);
    expect(JSON.stringify(book).length).toBeGreaterThan(1024 * 1024);
    expect((await publish(book)).status).toBe(201);
    const { body } = await service.as('technician').get('/v1/parts?search=supplier-49999');
    expect(codes(body)).toEqual(['SUPPLIER-49999']);
  });

  it('is refused above 16 MiB, and the refusal says so; elsewhere it is 256 KiB', async () => {
    const large = { ...priceBook, note: 'x'.repeat(16 * 1024 * 1024) };
    const refused = expectProblem(await publish(large), 'payload-too-large');
    expect(refused.body.detail).toBe('The body is larger than 16 MiB.');
    const customer = { name: 'x'.repeat(256 * 1024), phone: '555-0111' };
    const small = await owner().post('/v1/customers', customer);
    expectProblem(small, 'payload-too-large');
    expect(small.body.detail).toBe('The body is larger than 256 KiB.');
  });
});
