import type { Response } from 'supertest';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { beginDraft, type DraftAt, draftAt } from '../harness/draft.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const { effectiveFrom: _, ...content } = priceBook;
const NOW = '2026-07-14T13:00:00Z';

// What is the newest book is the question of every test here, so each has a database of its own.
let service: TestService;
beforeEach(async () => {
  service = await createTestService();
});
afterEach(() => service.close());

const owner = () => service.as('owner');
const beginAs = async (start: object): Promise<DraftAt> =>
  draftAt(
    expectStatus(await owner().post('/v1/price-book-drafts', { note: 'Next', ...start }), 201),
  );
const read = async ({ id }: DraftAt) =>
  expectStatus(await owner().get(`/v1/price-book-drafts/${id}`), 200).body;
const publish = ({ id, tag }: DraftAt, body: object = {}): Promise<Response> =>
  owner().post(
    `/v1/price-book-drafts/${id}/publish`,
    { effectiveFrom: NOW, ...body },
    { ifMatch: tag },
  );
const outdatedBy = async ({ id }: DraftAt) =>
  expectStatus(await owner().get(`/v1/price-book-drafts/${id}/preview`), 200).body.outdatedBy;
async function publishBook(change: object): Promise<{ id: string; number: number }> {
  const book = { ...priceBook, ...change };
  const { body } = expectStatus(await owner().post('/v1/price-books', book), 201);
  return { id: body.id, number: body.number };
}
/** Books are numbered without gaps, so the last number is how many there are. */
const lastNumber = async () =>
  (await owner().get('/v1/price-books?order=newest&limit=1')).body.items[0].number;

describe('a draft knows the price book it began as', () => {
  it('the one in force', async () => {
    const draft = await beginDraft(service);
    const { id, number } = (await owner().get('/v1/price-books/in-force')).body;
    expect((await read(draft)).basedOn).toEqual({ id, number });
    const { items } = (await owner().get('/v1/price-book-drafts')).body;
    expect(items[0].basedOn).toEqual({ id, number });
  });

  it('any other version, also one that never took force', async () => {
    const later = await publishBook({ effectiveFrom: '2031-01-01T00:00:00Z', parts: [] });
    const draft = await read(await beginAs({ from: later.id }));
    expect(draft).toMatchObject({ basedOn: later, content: { parts: [] } });
  });

  it('or that it was written from nothing', async () => {
    expect((await read(await beginAs({ content }))).basedOn).toBeNull();
  });
});

describe('the second of two drafts never undoes the first unseen', () => {
  it('its preview says that another book has come, and publishing it is refused', async () => {
    const [first, second] = [await beginDraft(service), await beginDraft(service)];
    expect(await outdatedBy(second)).toBeNull();
    const { publishedPriceBookId: id } = expectStatus(await publish(first), 200).body;
    expect(await outdatedBy(second)).toEqual({ id, number: 2 });
    const refused = expectProblem(await publish(second), 'draft-outdated').body;
    expect(refused).toMatchObject({ status: 409, basedOnNumber: 1, newestNumber: 2 });
    expect(refused.detail).toContain('the newest is price book 2');
    expect((await read(second)).state).toBe('open');
  });

  it('unless the owner says over which book, and the journal keeps that', async () => {
    const [first, second] = [await beginDraft(service), await beginDraft(service)];
    expectStatus(await publish(first), 200);
    expectProblem(await publish(second, { overBookNumber: 1 }), 'draft-outdated');
    const published = await publish(second, { overBookNumber: 2 });
    const { publishedPriceBookId: priceBookId } = expectStatus(published, 200).body;
    expect(await lastNumber()).toBe(3);
    const { rows } = await service.owner.query(
      `SELECT changes FROM journal_entry
       WHERE event = 'price_book_draft.published' AND subject_id = $1`,
      [second.id],
    );
    expect(JSON.parse(rows[0].changes).after).toEqual({ priceBookId, overBookNumber: 2 });
  });

  it('also when the newer book has yet to take effect, or was published whole', async () => {
    const draft = await beginDraft(service);
    const later = await publishBook({ effectiveFrom: '2031-01-01T00:00:00Z' });
    expect(await outdatedBy(draft)).toEqual(later);
    expectProblem(await publish(draft), 'draft-outdated');
    const afresh = await beginAs({ from: later.id });
    expectStatus(await publish(afresh, { effectiveFrom: '2031-02-01T00:00:00Z' }), 200);
  });

  it('nor does a return to an old book, or a book from nothing', async () => {
    const [old] = (await owner().get('/v1/price-books')).body.items;
    await publishBook({});
    for (const start of [{ from: old.id }, { content }]) {
      const draft = await beginAs(start);
      const last = await lastNumber();
      expectProblem(await publish(draft), 'draft-outdated');
      expectStatus(await publish(draft, { overBookNumber: last }), 200);
    }
  });

  it('a book named as the newest that is not is refused even where the draft began as the newest', async () => {
    const draft = await beginDraft(service);
    expectProblem(await publish(draft, { overBookNumber: 7 }), 'draft-outdated');
  });

  // The lock on publishing is taken before the newest book is looked for.
  it('of four drafts of one book published at once, one is published and the others are told', async () => {
    for (let round = 0; round < 4; round += 1) {
      const before = await lastNumber();
      const drafts = await Promise.all(Array.from({ length: 4 }, () => beginDraft(service)));
      const answers = await Promise.all(drafts.map((draft) => publish(draft)));
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409]);
      for (const answer of answers.filter(({ status }) => status === 409)) {
        expect(expectProblem(answer, 'draft-outdated').body.newestNumber).toBe(before + 1);
      }
      expect(await lastNumber()).toBe(before + 1);
    }
  });
});

it('the first price book of a company may be a draft too', async () => {
  const bookless = await createTestService({ withPriceBook: false });
  const at = bookless.as('owner');
  const draft = draftAt(await at.post('/v1/price-book-drafts', { note: 'First', content }));
  const published = await at.post(
    `/v1/price-book-drafts/${draft.id}/publish`,
    { effectiveFrom: NOW },
    { ifMatch: draft.tag },
  );
  expectStatus(published, 200);
  await bookless.close();
});
