import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { beginDraft, changeDraft, type DraftAt, draftAt, sendList } from '../harness/draft.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const { effectiveFrom, ...content } = priceBook;
const NOW = '2026-07-14T13:00:00Z';

let service: TestService;
let draft: DraftAt;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(async () => {
  draft = await beginDraft(service);
});
afterAll(() => service.close());

const owner = () => service.as('owner');
const at = (suffix = '') => `/v1/price-book-drafts/${draft.id}${suffix}`;
const read = async () => expectStatus(await owner().get(at()), 200).body;
const publish = (when = NOW) =>
  owner().post(at('/publish'), { effectiveFrom: when }, { ifMatch: draft.tag });
/** Books are numbered without gaps, so the last number is how many there are. */
const lastNumber = async () =>
  (await owner().get('/v1/price-books?order=newest&limit=1')).body.items[0].number;
const inForce = async () => (await owner().get('/v1/price-books/in-force')).body;

describe('a draft of the price book begins', () => {
  it('as the book in force, word for word', async () => {
    const { content: begun, ...head } = await read();
    const { tasks, parts, ...book } = await inForce();
    expect(head).toMatchObject({ note: 'Next spring', state: 'open', publishedPriceBookId: null });
    expect(head.allowedActions).toEqual(['change', 'publish', 'drop']);
    expect(head.laborRateCents).toBe(book.laborRateCents);
    const { rates, tiers, policy, periods, agreements, replacements } = book;
    expect(begun).toEqual({
      rates,
      tiers,
      policy,
      periods,
      agreements,
      replacements,
      tasks: expect.any(Array),
      parts: expect.any(Array),
    });
    const plain = tasks.map(({ remedies: _, ...task }: { remedies: unknown }) => task);
    expect(sorted(begun.tasks)).toEqual(sorted(plain));
    expect(sorted(begun.parts)).toEqual(sorted(parts));
  });

  it('as a whole content of its own', async () => {
    const begun = await owner().post('/v1/price-book-drafts', { note: 'Ours', content });
    expect(expectStatus(begun, 201).headers['location']).toBe(
      `/v1/price-book-drafts/${begun.body.id}`,
    );
  });

  it.each([
    ['from nothing', { note: 'x' }, '/from'],
    ['from two things at once', { note: 'x', from: 'in_force', content }, '/from'],
    [
      'with a content that is no price book',
      { note: 'x', content: { ...content, tasks: [] } },
      '/content/tasks',
    ],
  ])('not %s', async (_, body, pointer) => {
    const refused = await owner().post('/v1/price-book-drafts', body);
    const { errors } = expectProblem(refused, 'validation-failed').body;
    expect(errors).toEqual([expect.objectContaining({ pointer })]);
  });

  it('not from a price book that does not exist', async () => {
    const unknown = { note: 'x', from: draft.id };
    expectProblem(await owner().post('/v1/price-book-drafts', unknown), 'unknown-reference');
  });

  it('and is seen by the owner alone', async () => {
    for (const who of ['technician', 'dispatcher'] as const) {
      for (const path of [at(), at('/preview'), at('/parts.csv'), '/v1/price-book-drafts']) {
        expectProblem(await service.as(who).get(path), 'forbidden');
      }
    }
  });

  it('and stands in the list of drafts, by its state', async () => {
    expectStatus(await owner().post(at('/drop'), {}, { ifMatch: draft.tag }), 200);
    const open = await owner().get('/v1/price-book-drafts?state=open&limit=100');
    const dropped = await owner().get('/v1/price-book-drafts?state=dropped&order=newest');
    expect(open.body.items.map(({ id }: { id: string }) => id)).not.toContain(draft.id);
    expect(dropped.body.items[0]).toMatchObject({ id: draft.id, state: 'dropped' });
  });
});

describe('a change of a draft', () => {
  it('replaces what it names and leaves the rest as it was', async () => {
    const before = await read();
    const policy = { ...content.policy, quoteValidityDays: 14 };
    const changed = await changeDraft(service, draft, { policy, note: 'Shorter' });
    const after = await read();
    expect(after).toEqual({
      ...before,
      note: 'Shorter',
      version: 2,
      updatedAt: after.updatedAt,
      content: { ...before.content, policy },
    });
    expect(changed.tag).not.toBe(draft.tag);
  });

  it('adds, changes and removes single tasks and parts by their codes', async () => {
    const before = (await read()).content.parts;
    const [first, second] = before;
    const dearer = { ...first, costCents: 4_321 };
    const added = { ...second, code: 'NEW-1', name: 'New one' };
    await changeDraft(service, draft, { parts: { put: [dearer, added], remove: [second.code] } });
    const after = (await read()).content.parts;
    expect(sorted(after)).toEqual(sorted([dearer, ...before.slice(2), added]));
  });

  it('has no effect on the book in force', async () => {
    const before = await inForce();
    await changeDraft(service, draft, { parts: { remove: [before.parts[0].code] } });
    expect(await inForce()).toEqual(before);
  });

  it('is refused when somebody else changed it first, and both changes of one draft never meet', async () => {
    const change = (days: number) =>
      owner().patch(
        at(),
        { policy: { ...content.policy, quoteValidityDays: days } },
        { ifMatch: draft.tag },
      );
    const answers = await Promise.all([change(10), change(11), change(12)]);
    const statuses = answers.map(({ status }) => status).sort();
    expect(statuses).toEqual([200, 412, 412]);
    expect((await read()).version).toBe(2);
  });

  it('needs to say which version it means', async () => {
    expectProblem(await owner().patch(at(), { note: 'x' }), 'precondition-required');
  });

  it.each([
    [
      'removes a task that is not there',
      { tasks: { remove: ['no_such_task'] } },
      '/tasks/remove/0',
    ],
    [
      'puts one part twice',
      { parts: { put: [content.parts[0], content.parts[0]] } },
      '/parts/put/1',
    ],
    [
      'would leave a book without a last period',
      { periods: content.periods.slice(0, 1) },
      '/periods',
    ],
    ['names a field that no book has', { discounts: [] }, '/discounts'],
  ])('is refused when it %s', async (_, change, pointer) => {
    const refused = await owner().patch(at(), change, { ifMatch: draft.tag });
    const { errors } = expectProblem(refused, 'validation-failed').body;
    expect(errors).toEqual([expect.objectContaining({ pointer })]);
    expect((await read()).version).toBe(1);
  });

  it('is refused when factors would rise while goods are sold by measure', async () => {
    const steps = [
      { upToCents: 1_000, factor: '1.5' },
      { upToCents: null, factor: '2' },
    ];
    const refused = await owner().patch(
      at(),
      { tiers: { mode: 'progressive', steps } },
      { ifMatch: draft.tag },
    );
    const { errors } = expectProblem(refused, 'validation-failed').body;
    expect(errors[0]).toMatchObject({ pointer: '/tiers' });
    expect(errors[0].message).toContain('more would cost more a unit');
  });
});

describe('a draft is published', () => {
  it('as the next version, with every word of it, and stays as it was', async () => {
    const dearer = { ...(await read()).content.parts[0], costCents: 7_777 };
    draft = await changeDraft(service, draft, { parts: { put: [dearer] } });
    const last = await lastNumber();
    const published = expectStatus(await publish(), 200);
    const now = await inForce();
    expect(now.number).toBe(last + 1);
    expect(published.body).toMatchObject({
      state: 'published',
      publishedPriceBookId: now.id,
      allowedActions: [],
    });
    expect(now.parts).toContainEqual(dearer);
    const { content: kept } = await read();
    expect(sorted(now.parts)).toEqual(sorted(kept.parts));
    expect(now.rates).toEqual(kept.rates);
  });

  it('once, though two ask at the same instant', async () => {
    const last = await lastNumber();
    const answers = await Promise.all([publish(), publish(), publish()]);
    const statuses = answers.map(({ status }) => status).sort();
    expect(statuses).toEqual([200, 412, 412]);
    expect(await lastNumber()).toBe(last + 1);
  });

  it('once, though two ask at the same instant for whatever version there is', async () => {
    const last = await lastNumber();
    draft.tag = '*';
    const answers = await Promise.all([publish(), publish(), publish()]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409]);
    expect(await lastNumber()).toBe(last + 1);
  });

  it('and then refuses every change, and says that it is published', async () => {
    draft = draftAt(expectStatus(await publish(), 200));
    const refused = [
      await owner().patch(at(), { note: 'Late' }, { ifMatch: draft.tag }),
      await publish(),
      await owner().post(at('/drop'), {}, { ifMatch: draft.tag }),
      await sendList(service, draft, 'tiers', 'up_to,factor\n,2\n'),
    ];
    for (const answer of refused) {
      const { body } = expectProblem(answer, 'not-allowed-now');
      expect(body).toMatchObject({ currentState: 'published', allowedActions: [] });
      expect(body.detail).toContain('The draft stands at “published”');
    }
  });

  it('never when it was dropped', async () => {
    draft = draftAt(expectStatus(await owner().post(at('/drop'), {}, { ifMatch: draft.tag }), 200));
    const { body } = expectProblem(await publish(), 'not-allowed-now');
    expect(body).toMatchObject({ currentState: 'dropped', allowedActions: [] });
  });

  it('not so early that it could never take force; it stays open then', async () => {
    expectProblem(await publish('2019-01-01T00:00:00Z'), 'validation-failed');
    expect((await read()).state).toBe('open');
  });

  it('not from a day that is over, though the book in force is older still', async () => {
    const yesterday = new Date(service.clock.now().getTime() - 86_400_000).toISOString();
    const { errors } = expectProblem(await publish(yesterday), 'validation-failed').body;
    expect(errors).toMatchObject([{ pointer: '/effectiveFrom', code: 'day_over' }]);
    expect((await read()).state).toBe('open');
  });

  it('not with a part that an earlier book sold by another measure', async () => {
    const good = (await read()).content.parts.find(({ measured }: Part) => measured);
    const { measured: _, ...piece } = good;
    draft = await changeDraft(service, draft, { parts: { put: [piece] } });
    const { errors } = expectProblem(await publish(), 'validation-failed').body;
    expect(errors[0].message).toContain(good.code);
    expect((await read()).state).toBe('open');
  });
});

interface Part {
  measured?: object;
}

function sorted<Entry extends { code: string }>(entries: readonly Entry[]): Entry[] {
  return entries.toSorted((a, b) => (a.code < b.code ? -1 : 1));
}
