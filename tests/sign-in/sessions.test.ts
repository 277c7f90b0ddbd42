import { randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  askMe,
  bearerOf,
  cookieOf,
  goodPassword,
  type Invited,
  join,
  post,
  sendSignIn,
} from './people.ts';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('signing in', () => {
  it('lets a person in under their own name, and asks for no Idempotency-Key', async () => {
    const person = await join(service);
    const me = expectStatus(await askMe(service, await bearerOf(service, person)), 200);
    expect(me.body).toMatchObject({ id: person.staffId, role: 'technician', email: person.email });
  });

  it('takes the e-mail however it is written', async () => {
    const person = await join(service);
    const email = `  ${person.email.toUpperCase()} `;
    expectStatus(await sendSignIn(service, { ...person, email }), 200);
  });

  it('answers an unknown e-mail, a wrong password and somebody without one alike', async () => {
    const person = await join(service);
    const answers = [
      await sendSignIn(service, { ...person, email: `${randomUUID()}@example.com` }),
      await sendSignIn(service, { ...person, password: 'six loud herons on the bridge' }),
      await sendSignIn(service, { ...person, email: await emailWithoutPassword() }),
    ];
    for (const answer of answers) expectProblem(expectStatus(answer, 401), 'unauthenticated');
    const [first, ...others] = answers.map(({ body }) => ({ ...body, requestId: '' }));
    for (const other of others) expect(other).toEqual(first);
  });

  it('stores the token nowhere but as its hash, and each sign-in has another', async () => {
    const person = await join(service);
    const [one, other] = [await bearerOf(service, person), await bearerOf(service, person)];
    expect(one).not.toEqual(other);
    const token = one.authorization.slice('Bearer '.length);
    const kept = await service.owner.query<{ row: string }>(
      'SELECT n::text AS row FROM staff_session n',
    );
    expect(kept.rows.filter(({ row }) => row.includes(token))).toEqual([]);
  });

  it('makes the hash anew when it is of other parameters, and the password stays', async () => {
    const person = await join(service);
    const old = await hash(goodPassword, { memoryCost: 8_192, timeCost: 1 });
    await service.owner.query('UPDATE staff_password SET hash = $1 WHERE staff_id = $2', [
      old,
      person.staffId,
    ]);
    expectStatus(await sendSignIn(service, person), 200);
    const kept = await service.owner.query('SELECT hash FROM staff_password WHERE staff_id = $1', [
      person.staffId,
    ]);
    expect(kept.rows[0].hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expectStatus(await sendSignIn(service, person), 200);
  });

  describe('with a cookie, in a browser that shows another one (OWASP ASVS 5.0, 7.2.4)', () => {
    const signInWith = (person: Invited, cookie: { cookie: string }, change: object = {}) => {
      const sent = { email: person.email, password: person.password, carrier: 'cookie', ...change };
      return post(service, '/v1/sign-in', sent, { ...cookie, 'sec-fetch-site': 'same-origin' });
    };

    it('ends the session of before, and no other of the same person', async () => {
      const person = await join(service);
      const others = [await cookieOf(service, person), await bearerOf(service, person)];
      const before = await cookieOf(service, person);
      expectStatus(await signInWith(person, before), 200);
      expectProblem(await askMe(service, before), 'unauthenticated');
      for (const other of others) expectStatus(await askMe(service, { ...other }), 200);
    });

    it('ends it where it is somebody else’s, who used the same computer, and journals that', async () => {
      const [first, second] = [await join(service), await join(service)];
      const before = await cookieOf(service, first);
      expectStatus(await signInWith(second, before), 200);
      expectProblem(await askMe(service, before), 'unauthenticated');
      const written = await service.owner.query(
        `SELECT actor_id, changes FROM journal_entry
         WHERE event = 'session.ended' AND subject_id = $1`,
        [first.staffId],
      );
      expect(written.rows).toEqual([{ actor_id: second.staffId, changes: expect.any(String) }]);
      const { after } = JSON.parse(written.rows[0].changes);
      expect(after).toEqual({ cause: 'signed_in_again', count: 1 });
    });

    it('ends none where the password was wrong', async () => {
      const person = await join(service);
      const before = await cookieOf(service, person);
      const password = 'six loud herons on the bridge';
      expectStatus(await signInWith(person, before, { password }), 401);
      expectStatus(await askMe(service, before), 200);
    });

    it('ends none where the new session is a program’s: the browser keeps its cookie', async () => {
      const person = await join(service);
      const before = await cookieOf(service, person);
      expectStatus(await signInWith(person, before, { carrier: 'bearer' }), 200);
      expectStatus(await askMe(service, before), 200);
    });

    it('ends none for a cookie that is a token of something else, or nothing', async () => {
      const person = await join(service);
      const { authorization } = await bearerOf(service, person);
      const token = authorization.slice('Bearer '.length);
      for (const shown of [token, service.staff.owner.token, randomUUID(), '']) {
        expectStatus(await signInWith(person, { cookie: `__Host-evenhand=${shown}` }), 200);
      }
      expectStatus(await askMe(service, { authorization }), 200);
      expectStatus(await service.as('owner').get('/v1/me'), 200);
    });
  });

  async function emailWithoutPassword(): Promise<string> {
    const email = `${randomUUID()}@sparrowgate.example.com`;
    const body = { name: 'Nobody Yet', role: 'technician', email };
    expectStatus(await service.as('owner').post('/v1/staff', body), 201);
    return email;
  }
});

describe('a session', () => {
  it.each([
    { role: 'owner', idleMs: HOUR_MS, lastsMs: DAY_MS },
    { role: 'dispatcher', idleMs: HOUR_MS, lastsMs: DAY_MS },
    { role: 'technician', idleMs: 7 * DAY_MS, lastsMs: 30 * DAY_MS },
  ])('of a $role ends unused, and used at the latest after its time', async (each) => {
    const person = await join(service, { role: each.role });
    const unused = await bearerOf(service, person);
    service.clock.advance(each.idleMs - 1);
    expectStatus(await askMe(service, await bearerOf(service, person)), 200);
    service.clock.advance(1);
    expectProblem(await askMe(service, unused), 'unauthenticated');

    const used = await bearerOf(service, person);
    const step = each.idleMs / 2;
    for (let spent = step; spent < each.lastsMs; spent += step) {
      service.clock.advance(step);
      expectStatus(await askMe(service, used), 200);
    }
    service.clock.advance(step);
    expectProblem(await askMe(service, used), 'unauthenticated');
  });

  it('ends by signing out, and the others of the same person do not', async () => {
    const person = await join(service);
    const [one, other] = [await bearerOf(service, person), await bearerOf(service, person)];
    const answer = expectStatus(await post(service, '/v1/sign-out', {}, one), 200);
    expect(answer.body).toEqual({ sessionsEnded: 1 });
    expectProblem(await askMe(service, one), 'unauthenticated');
    expectStatus(await askMe(service, other), 200);
  });

  it('ends with all others by signing out everywhere', async () => {
    const person = await join(service);
    const sessions = [await bearerOf(service, person), await cookieOf(service, person)];
    const [own] = sessions;
    const answer = await post(service, '/v1/sign-out-everywhere', {}, { ...own });
    expect(expectStatus(answer, 200).body).toEqual({ sessionsEnded: 2 });
    for (const each of sessions)
      expectProblem(await askMe(service, { ...each }), 'unauthenticated');
  });

  it('that has ended is not brought back by a request that comes at the same time', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    service.clock.advance(2 * 60_000);
    // Each request writes down that the session is used, at the same time as it ends.
    const asked = Array.from({ length: 8 }, () => askMe(service, session));
    const [ended, ...answers] = await Promise.all([
      post(service, '/v1/sign-out', {}, session),
      ...asked,
    ]);
    expectStatus(ended, 200);
    for (const { status } of answers) expect([200, 401]).toContain(status);
    expectProblem(await askMe(service, session), 'unauthenticated');
  });

  it('of a program is not ended by signing out: its token is no session', async () => {
    const answer = await service.as('dispatcher').post('/v1/sign-out');
    expect(expectStatus(answer, 200).body).toEqual({ sessionsEnded: 0 });
    expectStatus(await service.as('dispatcher').get('/v1/me'), 200);
  });
});

describe('the cookie of a page', () => {
  it('is for this host alone, out of reach of scripts, and told to nobody else', async () => {
    const person = await join(service);
    const answer = expectStatus(await sendSignIn(service, person, { carrier: 'cookie' }), 200);
    const set = String(answer.headers['set-cookie']);
    expect(set).toMatch(/^__Host-evenhand=[\w-]{43}; /);
    for (const rule of ['Path=/', 'Secure', 'HttpOnly', 'SameSite=Lax', 'Max-Age=2592000']) {
      expect(set.split('; ')).toContain(rule);
    }
    expect(set).not.toContain('Domain');
    expect(answer.body.token).toBeNull();
  });

  it('opens nothing as a bearer token, and a bearer token opens nothing as a cookie', async () => {
    const person = await join(service);
    const { cookie } = await cookieOf(service, person);
    const { authorization } = await bearerOf(service, person);
    expectStatus(await askMe(service, { cookie }), 200);
    const token = cookie.slice('__Host-evenhand='.length);
    const swapped = { cookie: `__Host-evenhand=${authorization.slice('Bearer '.length)}` };
    expectProblem(await askMe(service, { authorization: `Bearer ${token}` }), 'unauthenticated');
    expectProblem(await askMe(service, swapped), 'unauthenticated');
  });

  it.each([
    ['another site', { 'sec-fetch-site': 'cross-site' }],
    ['a sister site', { 'sec-fetch-site': 'same-site' }],
    ['another origin, in an older browser', { origin: 'https://elsewhere.example.com' }],
    ['no origin at all', { origin: 'null' }],
    ['nowhere', {}],
  ])('does nothing that %s asks for', async (_, headers) => {
    const cookie = await cookieOf(service, await join(service));
    const sent = { ...cookie, ...headers, 'idempotency-key': randomUUID() };
    expectProblem(await post(service, '/v1/sign-out', {}, sent), 'forbidden');
    expectStatus(await askMe(service, cookie), 200);
  });

  it('does what our own page asks for, and is taken away by signing out', async () => {
    const cookie = await cookieOf(service, await join(service));
    const own = { ...cookie, 'sec-fetch-site': 'same-origin' };
    const answer = expectStatus(await post(service, '/v1/sign-out', {}, own), 200);
    expect(String(answer.headers['set-cookie'])).toContain('Max-Age=0');
    expectProblem(await askMe(service, cookie), 'unauthenticated');
  });

  it.each([
    ['/v1/sign-out', {}],
    ['/v1/sign-out-everywhere', {}],
    ['/v1/change-password', { password: goodPassword, newPassword: 'nine brass kettles go by' }],
  ])(
    'goes with all that the browser has of us, at %s (OWASP ASVS 5.0, 14.3.1)',
    async (path, body) => {
      const { cookie } = await cookieOf(service, await join(service));
      const shown = `theirs=1; ${cookie}; __Host-lang=es;__Host-q-17=x; x__Host-y=z; __Host- =v`;
      const own = { cookie: shown, 'sec-fetch-site': 'same-origin' };
      const answer = expectStatus(await post(service, path, body, own), 200);
      expect(answer.headers['clear-site-data']).toBe('"cache", "storage"');
      const gone = (name: string) => `${name}=; Max-Age=0; Path=/; Secure; HttpOnly; SameSite=Lax`;
      const names = ['__Host-evenhand', '__Host-q-17'];
      expect(answer.headers['set-cookie']).toEqual(names.map(gone));
    },
  );

  it('is not given to a browser that another site sends here', async () => {
    const { email, password } = await join(service);
    const sent = { email, password, carrier: 'cookie' };
    const answer = await post(service, '/v1/sign-in', sent, { 'sec-fetch-site': 'cross-site' });
    expectProblem(answer, 'forbidden');
    expect(answer.headers['set-cookie']).toBeUndefined();
  });
});

describe('changing the password', () => {
  const another = 'nine brass kettles in the orchard';

  it('needs the present one, signs out everywhere and opens with the new one', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    const wrong = { password: another, newPassword: another };
    const refused = await post(service, '/v1/change-password', wrong, session);
    expect(expectStatus(refused, 400).body.errors[0]).toMatchObject({ pointer: '/password' });
    const right = { password: person.password, newPassword: another };
    expectStatus(await post(service, '/v1/change-password', right, session), 200);
    expectProblem(await askMe(service, session), 'unauthenticated');
    expectProblem(await sendSignIn(service, person), 'unauthenticated');
    expectStatus(await sendSignIn(service, { ...person, password: another }), 200);
  });

  it('takes none that is hardly more than the name of the company', async () => {
    const person = await join(service);
    const change = { password: person.password, newPassword: 'Home Comfort 2026!' };
    const session = await bearerOf(service, person);
    const refused = await post(service, '/v1/change-password', change, session);
    expect(expectStatus(refused, 400).body.errors).toEqual([
      expect.objectContaining({ pointer: '/newPassword', code: 'of_the_company' }),
    ]);
  });

  it('happens once, of two that come at once', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    const change = (newPassword: string) =>
      post(service, '/v1/change-password', { password: person.password, newPassword }, session);
    const answers = await Promise.all([change(another), change(`${another} too`)]);
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
  });
});

describe('trying too often', () => {
  it('is refused for a while by account, also with the right password, and never for good', async () => {
    const person = await join(service);
    const wrong = { ...person, password: 'six loud herons on the bridge' };
    for (let at = 0; at < 10; at += 1) expectStatus(await sendSignIn(service, wrong), 401);
    const refused = expectProblem(
      expectStatus(await sendSignIn(service, person), 429),
      'too-many-tries',
    );
    expect(refused.headers['retry-after']).toBe('60');
    expect(refused.body.retryAfterSeconds).toBe(60);
    service.clock.advance(59_999);
    expectStatus(await sendSignIn(service, person), 429);
    service.clock.advance(1);
    expectStatus(await sendSignIn(service, person), 200);
  });

  it('is counted for an e-mail that nobody has, in the same way', async () => {
    const nobody = { email: `${randomUUID()}@example.com`, password: goodPassword };
    for (let at = 0; at < 10; at += 1) expectStatus(await sendSignIn(service, nobody), 401);
    expectStatus(await sendSignIn(service, nobody), 429);
    service.clock.advance(10 * 60_000);
  });

  it('counts tries that come at once as many', async () => {
    const person = await join(service);
    const wrong = { ...person, password: 'six loud herons on the bridge' };
    const tries = Array.from({ length: 14 }, () => sendSignIn(service, wrong));
    const statuses = (await Promise.all(tries)).map(({ status }) => status);
    expect(statuses.filter((status) => status === 401)).toHaveLength(10);
    expect(statuses.filter((status) => status === 429)).toHaveLength(4);
    service.clock.advance(10 * 60_000);
  });

  it('is forgiven by account once the right password was given', async () => {
    const person = await join(service);
    const wrong = { ...person, password: 'six loud herons on the bridge' };
    for (let round = 0; round < 2; round += 1) {
      for (let at = 0; at < 9; at += 1) expectStatus(await sendSignIn(service, wrong), 401);
      expectStatus(await sendSignIn(service, person), 200);
    }
    service.clock.advance(10 * 60_000);
  });

  it('is refused for a while by address, whichever accounts are tried', async () => {
    service.clock.advance(DAY_MS);
    const statuses = [];
    for (let at = 0; at < 61; at += 1) {
      const nobody = { email: `${randomUUID()}@example.com`, password: goodPassword };
      statuses.push((await sendSignIn(service, nobody)).status);
    }
    expect(statuses.slice(0, 60).every((status) => status === 401)).toBe(true);
    expect(statuses[60]).toBe(429);
    service.clock.advance(10 * 60_000);
  });

  it('is forgotten when all tries are free again', async () => {
    service.clock.advance(DAY_MS);
    await sendSignIn(service, { email: 'somebody@example.com', password: goodPassword });
    const kept = await service.owner.query('SELECT count(*)::int AS rows FROM sign_in_pace');
    expect(kept.rows[0].rows).toBe(2);
  });
});

describe('the journal', () => {
  it('tells who came and went and who was refused, and no secret', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    const tried = 'a password that was mistyped';
    await sendSignIn(service, { ...person, password: tried });
    await sendSignIn(service, { email: 'tried-by-nobody@example.com', password: tried });
    await post(service, '/v1/sign-out', {}, session);
    const written = await service.owner.query<{ event: string; row: string }>(
      'SELECT event, j::text AS row FROM journal_entry j ORDER BY id DESC LIMIT 6',
    );
    expect(written.rows.map(({ event }) => event).reverse()).toEqual([
      'sign_in_link.made',
      'password.set',
      'session.started',
      'sign_in.refused',
      'sign_in.refused',
      'session.ended',
    ]);
    const secrets = [tried, goodPassword, session.authorization.slice(7), 'tried-by-nobody'];
    for (const { row } of written.rows) {
      for (const secret of secrets) expect(row).not.toContain(secret);
    }
  });
});
