import { randomUUID } from 'node:crypto';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { programOf } from '../../src/sign-in/program-of.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  askMe,
  askSessions,
  bearerOf,
  cookieOf,
  goodPassword,
  type Invited,
  join,
  post,
} from './people.ts';
import { turnOn } from './turn-on.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
});
afterAll(() => service.close());

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;

type Shown = Record<string, string>;

const firefox = 'Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:128.0) Gecko/20100101 Firefox/128.0';

/** Signs in as a browser that says what it is. */
async function browserOf({ email, password }: Invited, userAgent: string): Promise<Shown> {
  const sent = { email, password, carrier: 'cookie' };
  const answer = await post(service, '/v1/sign-in', sent, { 'user-agent': userAgent });
  const [set = ''] = ([] as string[]).concat(expectStatus(answer, 200).headers['set-cookie'] ?? []);
  return { cookie: set.split(';')[0] ?? '', 'sec-fetch-site': 'same-origin' };
}

interface Told {
  id: string;
  program: string | null;
  isThisOne: boolean;
}

async function sessionsOf(shown: Shown): Promise<Told[]> {
  return expectStatus(await askSessions(service, shown), 200).body.items;
}

async function ownId(shown: Shown): Promise<string> {
  return (await sessionsOf(shown)).find(({ isThisOne }) => isThisOne)?.id ?? '';
}

function end(id: string, shown: Shown, password = goodPassword) {
  return post(service, `/v1/me/sessions/${id}/end`, { password }, shown);
}

describe('where somebody is signed in (OWASP ASVS 5.0, 7.5.2)', () => {
  it('is told to them, the newest first, with what it was begun with and how long it lasts', async () => {
    const person = await join(service, { role: 'dispatcher' });
    const began = service.clock.now().getTime();
    const browser = await browserOf(person, firefox);
    service.clock.advance(90_000);
    const program = await bearerOf(service, person);
    const at = (afterMs: number) => new Date(began + afterMs).toISOString();
    expect(await sessionsOf(program)).toEqual([
      {
        ...{ id: expect.any(String), carrier: 'bearer', program: null, isThisOne: true },
        ...{ startedAt: at(90_000), lastUsedAt: at(90_000) },
        ...{ endsUnusedAt: at(90_000 + HOUR_MS), expiresAt: at(90_000 + DAY_MS) },
      },
      {
        ...{ id: expect.any(String), carrier: 'cookie', program: 'Firefox, Windows' },
        ...{ startedAt: at(0), lastUsedAt: at(0), isThisOne: false },
        ...{ endsUnusedAt: at(HOUR_MS), expiresAt: at(DAY_MS) },
      },
    ]);
    const asBrowser = await sessionsOf(browser);
    expect(asBrowser.map(({ isThisOne }) => isThisOne)).toEqual([false, true]);
  });

  it('says when each was last used, to a minute, also close to its end', async () => {
    const person = await join(service, { role: 'owner' });
    const [used, asking] = [await bearerOf(service, person), await bearerOf(service, person)];
    const usedAt = async () => {
      const answer = expectStatus(await askSessions(service, asking), 200);
      return answer.body.items.at(-1).lastUsedAt;
    };
    const began = service.clock.now().toISOString();
    service.clock.advance(59_999);
    expectStatus(await askMe(service, used), 200);
    expect(await usedAt()).toBe(began);
    // By steps in which neither ends unused, to where the end of the day cuts the hour short.
    for (let step = 0; step < 47; step += 1) {
      service.clock.advance(HOUR_MS / 2);
      expectStatus(await askMe(service, used), 200);
      expect(await usedAt()).toBe(service.clock.now().toISOString());
    }
  });

  it('leaves out what has ended, by whom or what it may be', async () => {
    const person = await join(service, { role: 'owner' });
    const unused = await bearerOf(service, person);
    const left = await bearerOf(service, person);
    const ids = [await ownId(unused), await ownId(left)];
    expectStatus(await post(service, '/v1/sign-out', {}, left), 200);
    const later = await bearerOf(service, person);
    expect((await sessionsOf(later)).map(({ id }) => id)).toContain(ids[0]);
    expect((await sessionsOf(later)).map(({ id }) => id)).not.toContain(ids[1]);
    service.clock.advance(HOUR_MS - 1);
    expect(await sessionsOf(later)).toHaveLength(2);
    service.clock.advance(1);
    expect(await sessionsOf(later)).toHaveLength(1);
  });

  it('is told to nobody else', async () => {
    const [one, other] = [await join(service), await join(service)];
    await bearerOf(service, one);
    expect(await sessionsOf(await bearerOf(service, other))).toHaveLength(1);
    expect(await sessionsOf({ authorization: `Bearer ${service.staff.owner.token}` })).toEqual([]);
  });

  it('is told by pages', async () => {
    const person = await join(service);
    const shown = await bearerOf(service, person);
    for (let at = 0; at < 3; at += 1) await bearerOf(service, person);
    const page = (query: string) =>
      supertest(service.app.server).get(`/v1/me/sessions?limit=3${query}`).set(shown);
    const first = expectStatus(await page(''), 200).body;
    const second = expectStatus(await page(`&cursor=${first.nextCursor}`), 200).body;
    expect([first.items.length, second.items.length, second.nextCursor]).toEqual([3, 1, null]);
    const ids = [...first.items, ...second.items].map(({ id }: Told) => id);
    expect(ids).toEqual([...ids].sort().reverse());
  });

  it('holds no secret: neither an identifier nor anything else of the list lets anybody in', async () => {
    const shown = await bearerOf(service, await join(service));
    const { text } = await askSessions(service, shown);
    expect(text).not.toContain(shown.authorization.slice('Bearer '.length));
    const id = await ownId(shown);
    expectStatus(await askMe(service, { authorization: `Bearer ${id}` }), 401);
    expectStatus(await askMe(service, { cookie: `__Host-evenhand=${id}` }), 401);
  });
});

describe('ending one session', () => {
  it('ends that one and no other, with the password, and journals it', async () => {
    const person = await join(service);
    const [lost, kept, asking] = [
      await cookieOf(service, person),
      await bearerOf(service, person),
      await bearerOf(service, person),
    ];
    const id = await ownId(lost);
    const answer = expectStatus(await end(id, asking), 200);
    expect(answer.body).toEqual({ sessionsEnded: 1 });
    expect(answer.headers['clear-site-data']).toBeUndefined();
    expectStatus(await askMe(service, lost), 401);
    expectStatus(await askMe(service, kept), 200);
    expectStatus(await askMe(service, asking), 200);
    const written = await service.owner.query(
      `SELECT actor_id, changes FROM journal_entry
       WHERE event = 'session.ended' AND subject_id = $1`,
      [person.staffId],
    );
    expect(written.rows.map(({ actor_id }) => actor_id)).toEqual([person.staffId]);
    const { after } = JSON.parse(written.rows[0].changes);
    expect(after).toEqual({ cause: 'ended_one', count: 1 });
  });

  it('ends none with a wrong password, or without one', async () => {
    const person = await join(service);
    const [other, asking] = [await bearerOf(service, person), await bearerOf(service, person)];
    const id = await ownId(other);
    const wrong = expectStatus(await end(id, asking, 'six loud herons on the bridge'), 400);
    expect(wrong.body.errors).toEqual([
      expect.objectContaining({ pointer: '/password', code: 'wrong_password' }),
    ]);
    expectStatus(await post(service, `/v1/me/sessions/${id}/end`, {}, asking), 400);
    expectStatus(await askMe(service, other), 200);
  });

  it('needs no code where the second factor is on: one factor is enough', async () => {
    const person = await turnOn(service, await join(service, { role: 'owner' }));
    expectStatus(await end(await ownId(person.session), person.session), 200);
    expectStatus(await askMe(service, person.session), 401);
  });

  it('holds tries of the password against the account', async () => {
    const person = await join(service);
    const [other, asking] = [await bearerOf(service, person), await bearerOf(service, person)];
    const id = await ownId(other);
    for (let at = 0; at < 10; at += 1) expectStatus(await end(id, asking, 'wrong'), 400);
    expectStatus(await end(id, asking), 429);
    service.clock.advance(60_000);
    expectStatus(await end(id, asking), 200);
  });

  it('has a browser that ends its own forget what it has of us', async () => {
    const browser = await browserOf(await join(service), firefox);
    const answer = expectStatus(await end(await ownId(browser), browser), 200);
    expect(answer.headers['clear-site-data']).toBe('"cache", "storage"');
    expect(String(answer.headers['set-cookie'])).toContain('Max-Age=0');
    expectStatus(await askMe(service, browser), 401);
  });

  it('is the same refusal for what is over, another’s or nothing, whatever the password', async () => {
    const [one, other] = [await join(service), await join(service)];
    const [asking, over] = [await bearerOf(service, one), await bearerOf(service, one)];
    const foreign = await bearerOf(service, other);
    const overId = await ownId(over);
    expectStatus(await post(service, '/v1/sign-out', {}, over), 200);
    const refusals = [];
    for (const id of [overId, await ownId(foreign), randomUUID()]) {
      for (const password of [goodPassword, 'wrong']) {
        const { body } = expectStatus(await end(id, asking, password), 404);
        const { instance: _instance, requestId: _requestId, ...problem } = body;
        refusals.push(problem);
      }
    }
    for (const refusal of refusals) expect(refusal).toEqual(refusals[0]);
    expectStatus(await askMe(service, foreign), 200);
  });

  it('ends it once, of two who end it at the same time', async () => {
    const person = await join(service);
    const [other, asking] = [await bearerOf(service, person), await bearerOf(service, person)];
    const id = await ownId(other);
    const answers = await Promise.all([end(id, asking), end(id, asking)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 404]);
  });

  it('does nothing that another site asks for', async () => {
    const browser = await browserOf(await join(service), firefox);
    const id = await ownId(browser);
    expectStatus(await end(id, { ...browser, 'sec-fetch-site': 'cross-site' }), 403);
    expectStatus(await askMe(service, browser), 200);
  });
});

// What browsers say of themselves: MDN, "User-Agent" and "Browser detection using the user agent
// string". Of other programs the first name counts (RFC 9110, section 10.1.5).
const apple = 'AppleWebKit/605.1.15 (KHTML, like Gecko)';
const google = 'AppleWebKit/537.36 (KHTML, like Gecko) Chrome/126.0.0.0';

describe('what somebody signed in with', () => {
  it.each([
    [firefox, 'Firefox, Windows'],
    ['Mozilla/5.0 (Android 14; Mobile; rv:128.0) Gecko/128.0 Firefox/128.0', 'Firefox, Android'],
    ['Mozilla/5.0 (Macintosh; Intel Mac OS X 14.5; rv:128.0) Firefox/128.0', 'Firefox, Mac'],
    [`Mozilla/5.0 (Linux; Android 10; K) ${google} Mobile Safari/537.36`, 'Chrome, Android'],
    [`Mozilla/5.0 (X11; Linux x86_64) ${google} Safari/537.36`, 'Chrome, Linux'],
    [`Mozilla/5.0 (X11; CrOS x86_64 14541.0.0) ${google} Safari/537.36`, 'Chrome, Chromebook'],
    [
      `Mozilla/5.0 (Windows NT 10.0; Win64; x64) ${google} Safari/537.36 Edg/126.0.0.0`,
      'Edge, Windows',
    ],
    [
      `Mozilla/5.0 (Windows NT 10.0; Win64; x64) ${google} Safari/537.36 OPR/111.0.0.0`,
      'Opera, Windows',
    ],
    [
      `Mozilla/5.0 (iPhone; CPU iPhone OS 17_5 like Mac OS X) ${apple} Version/17.5 Safari/604.1`,
      'Safari, iPhone',
    ],
    [`Mozilla/5.0 (iPad; CPU OS 17_5 like Mac OS X) ${apple} CriOS/126.0 Safari`, 'Chrome, iPad'],
    ['Firefox/1.0', 'Firefox'],
    ['curl/8.5.0', 'curl'],
    ['dispatch-board/2.1 (night shift)', 'dispatch-board'],
  ])('is told in a few words: %s', (userAgent, program) => {
    expect(programOf(userAgent)).toBe(program);
  });

  it.each([
    ['nothing is said', undefined],
    ['an empty text', ''],
    ['what every browser says', 'Mozilla/5.0'],
    ['no name', '<script>alert(1)</script>'],
    ['a name of no end', 'x'.repeat(61)],
    ['a bell', '\u0007/1'],
  ])('is unknown where that is %s', (_, userAgent) => {
    expect(programOf(userAgent)).toBeUndefined();
  });

  it('is stored at the sign-in, however much is said', async () => {
    const person = await join(service);
    const long = `${firefox} ${'<b>'.repeat(2_000)}`;
    const names = [];
    for (const each of [long, 'x'.repeat(60), 'x'.repeat(61), "&'`*"]) {
      const [newest] = await sessionsOf(await browserOf(person, each));
      names.push(newest?.program);
    }
    expect(names).toEqual(['Firefox, Windows', 'x'.repeat(60), null, "&'`*"]);
  });
});
