import { randomUUID } from 'node:crypto';
import { pino } from 'pino';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { offerFirstLink } from '../../src/sign-in/index.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase } from '../harness/test-database.ts';
import { testPapers } from '../harness/test-papers.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { askMe, bearerOf, goodPassword, invite, join, post, sendSignIn } from './people.ts';

const HOUR_MS = 3_600_000;

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const use = (token: string, change: object = {}) =>
  post(service, '/v1/sign-in-links/use', { token, password: goodPassword, ...change });

describe('an invitation', () => {
  it('opens once', async () => {
    const { staffId, email, token } = await invite(service, { role: 'dispatcher' });
    const set = expectStatus(await use(token), 200);
    expect(set.body.staff).toMatchObject({ id: staffId, role: 'dispatcher' });
    expectProblem(expectStatus(await use(token), 404), 'not-found');
    expectStatus(await sendSignIn(service, { email, password: goodPassword }), 200);
  });

  it('opens once when two use it at the same time, and the password is the one’s who was told so', async () => {
    const { email, token } = await invite(service);
    const passwords = [0, 1, 2, 3].map((at) => `${goodPassword} ${at}`);
    const answers = await Promise.all(passwords.map((password) => use(token, { password })));
    const won = answers.findIndex(({ status }) => status === 200);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 404, 404, 404]);
    expectStatus(await sendSignIn(service, { email, password: passwords[won] ?? '' }), 200);
  });

  it('opens for three days', async () => {
    const { token } = await invite(service);
    service.clock.advance(72 * HOUR_MS);
    expectStatus(await use(token), 404);
  });

  it('is not used up by a password that is too weak', async () => {
    const { token } = await invite(service);
    for (const [password, code] of [
      ['too short', 'too_short'],
      // The company of these tests is Sparrowgate Home Comfort.
      ['Home Comfort 2026!', 'of_the_company'],
    ]) {
      const weak = expectStatus(await use(token, { password }), 400);
      expect(weak.body.errors[0]).toMatchObject({ pointer: '/password', code });
    }
    expectStatus(await use(token), 200);
  });

  it('is told once: repeated, the request is answered without its token', async () => {
    const person = { name: 'Jessamy Quillfeather', role: 'technician' };
    const body = { ...person, email: `${randomUUID()}@example.com` };
    const key = randomUUID();
    const first = await service.as('owner').post('/v1/staff', body, { key });
    const again = await service.as('owner').post('/v1/staff', body, { key });
    expect(expectStatus(again, 201).body).toEqual({ ...first.body, token: null });
    const kept = await service.owner.query<{ row: string }>(
      'SELECT k::text AS row FROM idempotency_key k UNION ALL SELECT l::text FROM sign_in_link l',
    );
    expect(kept.rows.filter(({ row }) => row.includes(first.body.token))).toEqual([]);
  });

  it('is refused for an e-mail that somebody has, however it is written, also of two at once', async () => {
    const { email } = await invite(service);
    const again = { name: 'Another', role: 'technician', email: email.toUpperCase() };
    expectProblem(await service.as('owner').post('/v1/staff', again), 'already-exists');
    const other = { ...again, email: `${randomUUID()}@example.com` };
    const both = await Promise.all([0, 1].map(() => service.as('owner').post('/v1/staff', other)));
    expect(both.map(({ status }) => status).sort()).toEqual([201, 409]);
  });
});

describe('another link', () => {
  it('makes the earlier one worth nothing', async () => {
    const { staffId, token } = await invite(service);
    const renewed = await service.as('owner').post(`/v1/staff/${staffId}/sign-in-link`);
    expectStatus(await use(token), 404);
    expectStatus(await use(expectStatus(renewed, 201).body.token), 200);
  });

  it('for a forgotten password ends what the old one opened', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    const renewed = await service.as('owner').post(`/v1/staff/${person.staffId}/sign-in-link`);
    expectStatus(await askMe(service, session), 200);
    const password = 'nine brass kettles in the orchard';
    expectStatus(await use(renewed.body.token, { password }), 200);
    expectProblem(await askMe(service, session), 'unauthenticated');
    expectStatus(await sendSignIn(service, person), 401);
    expectStatus(await sendSignIn(service, { ...person, password }), 200);
  });
});

describe('somebody who is shut out', () => {
  const disable = (staffId: string) => service.as('owner').post(`/v1/staff/${staffId}/disable`);
  const enable = (staffId: string) => service.as('owner').post(`/v1/staff/${staffId}/enable`);

  it('is out at once; back again, they sign in anew', async () => {
    const person = await join(service);
    const session = await bearerOf(service, person);
    const renewed = await service.as('owner').post(`/v1/staff/${person.staffId}/sign-in-link`);
    const out = expectStatus(await disable(person.staffId), 200);
    expect(out.body).toMatchObject({ hasPassword: true, linkOpensUntil: null });
    expectProblem(await askMe(service, session), 'unauthenticated');
    expectStatus(await sendSignIn(service, person), 401);
    expectStatus(await use(renewed.body.token), 404);
    expectProblem(await disable(person.staffId), 'not-allowed-now');
    expectStatus(await enable(person.staffId), 200);
    expectProblem(await enable(person.staffId), 'not-allowed-now');
    expectProblem(await askMe(service, session), 'unauthenticated');
    expectStatus(await use(renewed.body.token), 404);
    expectStatus(await sendSignIn(service, person), 200);
  });

  it('gets no session from a sign-in that is under way', async () => {
    const person = await join(service);
    const [signedIn, out] = await Promise.all([
      sendSignIn(service, person),
      disable(person.staffId),
    ]);
    expectStatus(out, 200);
    if (signedIn.status === 200) {
      const authorization = `Bearer ${signedIn.body.token}`;
      expectProblem(await askMe(service, { authorization }), 'unauthenticated');
    } else expectStatus(signedIn, 401);
  });

  it('is listed with everybody else, and says whether they can sign in', async () => {
    const { staffId } = await invite(service);
    await disable(staffId);
    const list = await service.as('owner').get('/v1/staff-access?limit=100');
    const listed = list.body.items.find(({ id }: { id: string }) => id === staffId);
    expect(listed).toMatchObject({ hasPassword: false, linkOpensUntil: null });
    expect(listed.disabledAt).not.toBeNull();
  });

  it('is never the last owner, also when two owners shut each other out at once', async () => {
    const own = service.staff.owner.id;
    expectProblem(await disable(own), 'not-allowed-now');
    const other = await join(service, { role: 'owner' });
    const session = await bearerOf(service, other);
    const headers = { ...session, 'idempotency-key': randomUUID() };
    const answers = await Promise.all([
      disable(other.staffId),
      post(service, `/v1/staff/${own}/disable`, {}, headers),
    ]);
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    const left = await service.owner.query(
      "SELECT id FROM staff WHERE role = 'owner' AND disabled_at IS NULL",
    );
    expect(left.rows).toHaveLength(1);
  });
});

describe('the first owner', () => {
  const clock = fixedClock();
  const person = { name: 'Jessamy Quillfeather', email: 'jessamy@example.com' };
  const withEmpty = async (work: (at: Empty) => Promise<void>) => {
    const database = await createTestDatabase();
    const log = pino({ level: 'silent' });
    const deps = { db: database.db, clock, ids: timedIds(clock), log, papers: testPapers() };
    const app = await buildApp(deps);
    await app.ready();
    const send = (token: string, change: object = person) =>
      supertest(app.server)
        .post('/v1/sign-in-links/use')
        .send({ token, password: goodPassword, ...change });
    try {
      await work({ offer: async () => (await offerFirstLink(deps))?.token, send });
    } finally {
      await app.close();
      await database.drop();
    }
  };
  interface Empty {
    offer(): Promise<string | undefined>;
    send(token: string, change?: object): supertest.Test;
  }

  it('comes in by a link that opens once, also when many use it at the same time', async () => {
    await withEmpty(async ({ offer, send }) => {
      const token = (await offer()) ?? '';
      expect((await send(token, {})).body.errors[0].pointer).toBe('/name');
      const tries = [0, 1, 2].map((at) => send(token, { ...person, email: `o${at}@example.com` }));
      const answers = await Promise.all(tries);
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 404, 404]);
      expect(await offer()).toBeUndefined();
    });
  });

  it('has one link: each start makes another, and the earlier opens nothing', async () => {
    await withEmpty(async ({ offer, send }) => {
      const earlier = (await offer()) ?? '';
      const [one = '', other = ''] = await Promise.all([offer(), offer()]);
      expect((await send(earlier)).status).toBe(404);
      const statuses = [(await send(one)).status, (await send(other)).status];
      expect(statuses.sort()).toEqual([200, 404]);
    });
  });

  it('has an hour', async () => {
    await withEmpty(async ({ offer, send }) => {
      const token = (await offer()) ?? '';
      clock.advance(HOUR_MS);
      expect((await send(token)).status).toBe(404);
    });
  });

  it('is nobody where a program of the staff has a token: they can invite themselves', async () => {
    const { db, clock: now } = service;
    expect(await offerFirstLink({ db, clock: now, ids: timedIds(now) })).toBeUndefined();
  });
});
