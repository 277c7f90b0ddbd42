import { createHash, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arriveAtJob, draftQuote, findCapacitor, yesTo } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { makeLink, type Offer, offerAtLink, visit } from '../harness/visitor.ts';

let service: TestService;
let offer: Offer;
beforeAll(async () => {
  service = await createTestService();
  offer = await offerAtLink(service);
});
afterAll(() => service.close());

const linksOf = (quoteId: string) => `/v1/quotes/${quoteId}/links`;

describe('a link', () => {
  it('has 256 bits that nobody can guess, and the database keeps only their hash', async () => {
    expect(offer.token).toMatch(/^[\w-]{43}$/);
    const { rows } = await service.owner.query(
      `SELECT to_jsonb(l)::text AS row, token_hash FROM quote_link l WHERE id = $1`,
      [offer.linkId],
    );
    expect(rows[0].token_hash).toEqual(createHash('sha256').update(offer.token).digest());
    expect(rows[0].row).not.toContain(offer.token);
  });

  it('stands nowhere else: not in the kept answer, not in the journal, not in the list', async () => {
    const { rows } = await service.owner.query(
      `SELECT (SELECT string_agg(k::text, '') FROM idempotency_key k) AS kept,
        (SELECT string_agg(j::text, '') FROM journal_entry j) AS journal`,
    );
    const listed = await service.as('technician').get(linksOf(offer.quote.body.id));
    for (const text of [rows[0].kept, rows[0].journal, listed.text]) {
      expect(text).toContain(offer.linkId);
      expect(text).not.toContain(offer.token);
    }
    expect(listed.text).not.toContain('url');
  });

  it('is told once: the same request again gets the same link without its address', async () => {
    const key = randomUUID();
    const other = await offerAtLink(service);
    const ask = () =>
      service.as('technician').post(linksOf(other.quote.body.id), { holder: 'payer' }, { key });
    const [first, again] = [await ask(), await ask()];
    expect(expectStatus(first, 201).body.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/q\/[\w-]{43}$/);
    expect(expectStatus(again, 201).headers['idempotency-replayed']).toBe('true');
    expect(again.body).toEqual({ ...first.body, url: null });
  });

  it('takes the place of the one its holder had; the other holder keeps theirs', async () => {
    const { quote, path, linkId } = await offerAtLink(service);
    const payer = await makeLink(service, quote, 'payer');
    const newer = await makeLink(service, quote, 'approver');
    const listed = await service.as('dispatcher').get(linksOf(quote.body.id));
    expect(
      listed.body.items.map(({ id, revokedAt }: { id: string; revokedAt: string | null }) => [
        id,
        revokedAt !== null,
      ]),
    ).toEqual([
      [newer.linkId, false],
      [payer.linkId, false],
      [linkId, true],
    ]);
    const someone = await visit(service);
    expectStatus(await someone.get(path), 404);
    for (const living of [payer, newer]) expectStatus(await someone.get(living.path), 303);
  });

  it('is made by one of two who make it at once, and by the other after that', async () => {
    const { quote } = await offerAtLink(service);
    const made = await Promise.all(
      Array.from({ length: 6 }, () =>
        service.as('technician').post(linksOf(quote.body.id), { holder: 'payer' }),
      ),
    );
    for (const each of made) expectStatus(each, 201);
    const { rows } = await service.owner.query(
      `SELECT count(*)::int AS living FROM quote_link
       WHERE quote_id = $1 AND holder = 'payer' AND revoked_at IS NULL`,
      [quote.body.id],
    );
    expect(rows[0].living).toBe(1);
  });

  it('is revoked once, and opens nothing from then on', async () => {
    const { linkId, path } = await offerAtLink(service);
    const revoke = () => service.as('dispatcher').post(`/v1/quote-links/${linkId}/revoke`);
    expect(expectStatus(await revoke(), 200).body.revokedAt).toBe(
      service.clock.now().toISOString(),
    );
    expectProblem(await revoke(), 'not-allowed-now');
    expectStatus(await (await visit(service)).get(path), 404);
  });

  it('is of an issued quote, and of an answered one as its receipt; never of a draft', async () => {
    const job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const ask = (quoteId: string) =>
      service.as('technician').post(linksOf(quoteId), { holder: 'approver' });
    expect(expectProblem(await ask(draft.body.id), 'not-allowed-now').body.currentState).toBe(
      'draft',
    );
    const { quote } = await offerAtLink(service);
    const path = `/v1/quotes/${quote.body.id}/accept`;
    const yes = await service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag });
    expectStatus(yes, 200);
    const { url } = expectStatus(await ask(quote.body.id), 201).body;
    const page = await visit(service, { path: new URL(url).pathname });
    const receipt = await page.get(`/your-quote/${quote.body.number}`);
    expect(expectStatus(receipt, 200).text).toContain('Winifred Ashgrove');
  });

  it('of another technician’s quote is neither made nor seen nor revoked', async () => {
    const stranger = service.as('second_technician');
    const path = linksOf(offer.quote.body.id);
    expectProblem(await stranger.post(path, { holder: 'payer' }), 'not-found');
    expectProblem(await stranger.get(path), 'not-found');
    expectProblem(await stranger.post(`/v1/quote-links/${offer.linkId}/revoke`), 'not-found');
    expectProblem(await stranger.post(`/v1/quote-links/${randomUUID()}/revoke`), 'not-found');
  });
});
