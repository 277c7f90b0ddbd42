import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { createLog } from '../../src/platform/log.ts';
import { sendTo } from '../harness/change-order.ts';
import { addSite, arriveAtJob, findCapacitor, issueQuote, type Site } from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { acceptOnly, offer } from '../harness/whole-job.ts';
import { reader, textOf } from './reader.ts';

const HOUR_MS = 60 * 60_000;
const START = '2026-07-14T18:00:00Z';
const mail = 'winifred@example.com';

const lines: string[] = [];
let service: TestService;
beforeAll(async () => {
  const log = createLog('trace', { write: (line) => void lines.push(line) });
  service = await createTestService({ log });
});
beforeEach(() => service.clock.set(START));
afterAll(() => service.close());

async function siteWith(email: string | null): Promise<Site> {
  const site = await addSite(service);
  if (email !== null) {
    const path = `/v1/customers/${site.customerId}`;
    const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    expectStatus(await service.as('dispatcher').patch(path, { email }, { ifMatch }), 200);
  }
  return site;
}

async function openQuote(email: string | null = mail) {
  const job = await arriveAtJob(service, await siteWith(email));
  const findingId = await findCapacitor(service, job);
  const quote = await offer(service, job, [findingId]);
  const hash: string = quote.body.contentHash;
  return { job, findingId, quote, hash };
}

interface Sent {
  id: string;
  recipient: string;
  channel: string;
  customer_id: string;
  asked_by_id: string | null;
  state: string;
  revision: number;
}

/** The mails that somebody asked for at the page, of one quote. */
async function askedFor({ quote }: { quote: { body: { id: string } } }): Promise<Sent[]> {
  const { rows } = await service.owner.query<Sent>(
    `SELECT d.id, d.recipient, d.channel, d.customer_id, d.asked_by_id, s.state, r.number AS revision
     FROM delivery d JOIN delivery_state s ON s.delivery_id = d.id
     JOIN paper p ON p.id = d.paper_id JOIN quote_revision r ON r.id = p.revision_id
     WHERE d.cause = 'asked' AND r.quote_id = $1 ORDER BY d.created_at, d.id`,
    [quote.body.id],
  );
  return rows;
}

describe('the link asked for at the page of a quote that waits', () => {
  it('goes to the mail address on file of whoever answers it, once, with an entry in the journal', async () => {
    const open = await openQuote();
    const answer = await reader(service).askAgain(open.hash);
    expect(expectStatus(answer, 303).headers['location']).toBe(`/paper/${open.hash}?link=asked`);
    const [sent, ...more] = await askedFor(open);
    expect(more).toEqual([]);
    expect(sent).toMatchObject({
      ...{ recipient: 'approver', channel: 'mail', customer_id: open.job.customerId },
      ...{ asked_by_id: null, state: 'waiting', revision: 1 },
    });
    const { rows } = await service.owner.query(
      `SELECT event, actor_kind, actor_id, changes FROM journal_entry WHERE subject_id = $1`,
      [sent?.id],
    );
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      ...{ event: 'delivery.asked', actor_kind: 'system', actor_id: null },
    });
    expect(JSON.stringify(rows)).not.toContain(mail);
  });

  it('is told of in the same words whether or not there is an address, and whether or not it was asked for before', async () => {
    const withMail = await openQuote();
    const without = await openQuote(null);
    const answers: string[] = [];
    for (const { hash } of [withMail, withMail, without, without]) {
      const answer = expectStatus(await reader(service).askAgain(hash), 303);
      const page = await reader(service).get(answer.headers['location'] ?? '');
      expect(textOf(page)).toContain('If we have a mail address of whoever answers this quote');
      expect(page.text).not.toContain('<form');
      answers.push(
        page.text
          .replaceAll(hash, 'HASH')
          .replace(/Quote \d+/g, 'Quote N')
          .replace(/[0-9a-f ]{71}/, ''),
      );
    }
    expect(new Set(answers).size).toBe(1);
    expect(await askedFor(withMail)).toHaveLength(1);
    expect(await askedFor(without)).toEqual([]);
  });

  it('is one mail when ten ask at once', async () => {
    const open = await openQuote();
    const answers = await Promise.all(
      Array.from({ length: 10 }, () => reader(service).askAgain(open.hash)),
    );
    for (const answer of answers) expectStatus(answer, 303);
    expect(await askedFor(open)).toHaveLength(1);
  });

  it('is none within the hour, and one more after it', async () => {
    const open = await openQuote();
    const askAfter = async (milliseconds: number) => {
      service.clock.set(new Date(Date.parse(START) + milliseconds).toISOString());
      expectStatus(await reader(service).askAgain(open.hash), 303);
      return (await askedFor(open)).length;
    };
    expect(await askAfter(0)).toBe(1);
    expect(await askAfter(HOUR_MS - 1)).toBe(1);
    expect(await askAfter(HOUR_MS)).toBe(2);
    expect(await askAfter(HOUR_MS + 1)).toBe(2);
  });

  it('of another quote is another mail', async () => {
    const [one, other] = [await openQuote(), await openQuote()];
    await reader(service).askAgain(one.hash);
    await reader(service).askAgain(other.hash);
    expect([await askedFor(one), await askedFor(other)].map(({ length }) => length)).toEqual([
      1, 1,
    ]);
  });

  it('of a newer revision does not start the hour anew', async () => {
    const open = await openQuote();
    await reader(service).askAgain(open.hash);
    const options = [{ title: 'The same once more', findingIds: [open.findingId] }];
    const revised = tagged(
      expectStatus(await sendTo(service, open.quote, 'revise', { options }), 200),
    );
    const newer = await issueQuote(service, revised);
    await reader(service).askAgain(newer.body.contentHash);
    expect(await askedFor(open)).toHaveLength(1);
    service.clock.advance(HOUR_MS);
    await reader(service).askAgain(open.hash);
    expect(await askedFor(open), 'what was replaced is mailed no more').toHaveLength(1);
    await reader(service).askAgain(newer.body.contentHash);
    expect((await askedFor(open)).map(({ revision }) => revision)).toEqual([1, 2]);
  });

  it('that our staff sent does not count: the customer may ask at once', async () => {
    const open = await openQuote();
    const papers = await service.as('dispatcher').get(`/v1/papers?ticketId=${open.job.ticketId}`);
    const path = `/v1/papers/${papers.body.items[0].id}/deliveries`;
    const sent = { to: 'approver', channel: 'mail' };
    expectStatus(await service.as('dispatcher').post(path, sent), 201);
    await reader(service).askAgain(open.hash);
    expect(await askedFor(open)).toHaveLength(2);
  });

  it.each(['accepted', 'run out', 'withdrawn'])(
    'of one that is %s is never sent, and its page says why',
    async (state) => {
      const open = await openQuote();
      if (state === 'accepted') await acceptOnly(service, open.quote);
      if (state === 'withdrawn') expectStatus(await sendTo(service, open.quote, 'withdraw'), 200);
      if (state === 'run out') service.clock.set('2026-08-15T12:00:00Z');
      const answer = expectStatus(await reader(service).askAgain(open.hash), 303);
      const text = textOf(await reader(service).get(answer.headers['location'] ?? ''));
      expect(text.toLowerCase()).toContain(state);
      expect(text).not.toContain('If we have a mail address');
      expect(await askedFor(open)).toEqual([]);
    },
  );
});

describe('the button works from our own page alone', () => {
  it.each([
    ['of another site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['of a neighbor', { 'sec-fetch-site': 'same-site' }, 403],
    ['of an old browser on another site', { origin: 'https://elsewhere.example.com' }, 403],
    ['of something that says neither', {}, 403],
  ])('%s', async (_, headers: Record<string, string>, status) => {
    const open = await openQuote();
    const refused = expectStatus(await reader(service).askAgain(open.hash, headers), status);
    expect(refused.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(textOf(refused)).toContain('Please use the button on the page itself');
    expect(refused.text).toContain(`<a href="/paper/${open.hash}">Back to the paper</a>`);
    expect(await askedFor(open)).toEqual([]);
  });

  it('and says so of a body that is no form of it', async () => {
    const open = await openQuote();
    const sent = await service.app.inject({
      method: 'POST',
      url: `/paper/${open.hash}/link`,
      headers: { 'sec-fetch-site': 'same-origin', 'content-type': 'application/json' },
      payload: '{}',
    });
    expect(sent.statusCode).toBe(415);
    expect(textOf({ text: sent.body })).toContain('We could not read that');
    expect(await askedFor(open)).toEqual([]);
  });

  it('goes on in the language of the page', async () => {
    const open = await openQuote();
    const { text } = await reader(service).get(`/paper/${open.hash}?lang=es`);
    expect(text).toContain('<input type="hidden" name="language" value="es">');
    const sent = await service.app.inject({
      method: 'POST',
      url: `/paper/${open.hash}/link`,
      headers: {
        'sec-fetch-site': 'same-origin',
        'content-type': 'application/x-www-form-urlencoded',
      },
      payload: 'language=es',
    });
    expect(sent.headers.location).toBe(`/paper/${open.hash}?lang=es&link=asked`);
    const page = await reader(service).get(String(sent.headers.location));
    expect(textOf(page)).toContain('Si tenemos un correo electrónico de quien responde');
  });
});

it('nothing that was asked for left an address in the log', () => {
  expect(lines.length).toBeGreaterThan(20);
  expect(lines.join('')).not.toContain(mail);
});
