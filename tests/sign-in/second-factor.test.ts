import { randomUUID } from 'node:crypto';
import type { Response } from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { codeApp } from '../harness/code-app.ts';
import { testPapers } from '../harness/test-papers.ts';
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
import { turnOn, type WithFactor } from './turn-on.ts';

const STEP_MS = 30_000;
const HOUR_MS = 3_600_000;
const WRONG_PASSWORD = 'six loud herons on the bridge';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/** The code that an app shows now, or so many steps from now. */
const codeOf = ({ app }: Pick<WithFactor, 'app'>, steps = 0) =>
  app(new Date(service.clock.now().getTime() + steps * STEP_MS));

const codesOfNow = (person: Pick<WithFactor, 'app'>) =>
  new Set([-1, 0, 1].map((steps) => codeOf(person, steps)));

/** A code that none of those around now is. */
function wrongFor(person: Pick<WithFactor, 'app'>): string {
  const right = codesOfNow(person);
  const wrong = ['000000', '111111', '222222', '333333'].find((code) => !right.has(code));
  return wrong ?? '';
}

const joinWithFactor = async (role = 'dispatcher') =>
  turnOn(service, await join(service, { role }));

/** Moves on, so that no code of before is good any more and all tries are free again. */
const later = () => service.clock.advance(6 * HOUR_MS);

function expectCodeNeeded(answer: Response): void {
  expectProblem(expectStatus(answer, 401), 'unauthenticated');
  expect(answer.body.codeNeeded).toBe(true);
}

async function sessionsOf({ staffId }: Invited): Promise<number> {
  const found = await service.owner.query(
    'SELECT FROM staff_session WHERE staff_id = $1 AND ended_at IS NULL',
    [staffId],
  );
  return found.rows.length;
}

describe('turning the second factor on', () => {
  it.each(['owner', 'dispatcher'])('is for a %s, by password and a first code', async (role) => {
    const person = await join(service, { role });
    const session = await bearerOf(service, person);
    const { body: before } = await askMe(service, session);
    expect(before.secondFactor).toEqual({ isOn: false, recoveryCodesLeft: 0 });
    const begun = await post(service, '/v1/second-factor/begin', passwordOf(person), session);
    const app = codeApp(expectStatus(begun, 200).body.uri);
    // Until a code was given, nobody is asked for one.
    expectStatus(await sendSignIn(service, person), 200);
    const code = app(service.clock.now());
    const on = await post(service, '/v1/second-factor/confirm', { code }, session);
    expect(expectStatus(on, 200).body.recoveryCodes).toHaveLength(10);
    const { body: after } = await askMe(service, session);
    expect(after.secondFactor).toEqual({ isOn: true, recoveryCodesLeft: 10 });
    expectCodeNeeded(await sendSignIn(service, person));
  });

  it('is not for a technician', async () => {
    const session = await bearerOf(service, await join(service));
    const sent = { password: goodPassword };
    const answer = await post(service, '/v1/second-factor/begin', sent, session);
    expectProblem(expectStatus(answer, 403), 'forbidden');
  });

  it('needs the password, for a session may have been left open', async () => {
    const session = await bearerOf(service, await join(service, { role: 'owner' }));
    const sent = { password: WRONG_PASSWORD };
    const answer = await post(service, '/v1/second-factor/begin', sent, session);
    expect(expectStatus(answer, 400).body.errors[0]).toMatchObject({ pointer: '/password' });
  });

  it('needs a right code, and a secret that was begun before is worth nothing', async () => {
    const person = await join(service, { role: 'owner' });
    const session = await bearerOf(service, person);
    const begin = async () => {
      const begun = await post(service, '/v1/second-factor/begin', passwordOf(person), session);
      return codeApp(expectStatus(begun, 200).body.uri);
    };
    const [old, app] = [await begin(), await begin()];
    const confirm = (code: string) => post(service, '/v1/second-factor/confirm', { code }, session);
    const now = service.clock.now();
    // By a chance of three in a million the old app shows a code of the new one.
    if (!codesOfNow({ app }).has(old(now))) {
      const refused = expectStatus(await confirm(old(now)), 400);
      expect(refused.body.errors[0]).toMatchObject({ pointer: '/code', code: 'wrong_code' });
    }
    expectStatus(await confirm(app(now)), 200);
    expectProblem(await confirm(app(now)), 'not-allowed-now');
    const again = await post(service, '/v1/second-factor/begin', passwordOf(person), session);
    expect(expectStatus(again, 409).body).toMatchObject({ currentState: 'on' });
  });

  it('is refused where nothing was begun', async () => {
    const session = await bearerOf(service, await join(service, { role: 'owner' }));
    const answer = await post(service, '/v1/second-factor/confirm', { code: '123456' }, session);
    expect(expectStatus(answer, 409).body).toMatchObject({ allowedActions: ['begin'] });
  });

  it('happens once, of two that come at once, and the codes told are those that count', async () => {
    const person = await join(service, { role: 'owner' });
    const session = await bearerOf(service, person);
    const begun = await post(service, '/v1/second-factor/begin', passwordOf(person), session);
    const code = codeApp(begun.body.uri)(service.clock.now());
    const answers = await Promise.all(
      [0, 1].map(() => post(service, '/v1/second-factor/confirm', { code }, session)),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    const told = answers.find(({ status }) => status === 200)?.body.recoveryCodes[3];
    expectStatus(await sendSignIn(service, person, { code: told }), 200);
  });

  it('ends the other sessions, which began without a code, and not the own', async () => {
    const person = await join(service, { role: 'dispatcher' });
    const elsewhere = await cookieOf(service, person);
    const { session } = await turnOn(service, person);
    expectProblem(await askMe(service, elsewhere), 'unauthenticated');
    expectStatus(await askMe(service, session), 200);
  });
});

describe('signing in with the second factor', () => {
  it('is one act of e-mail, password and code', async () => {
    const person = await joinWithFactor();
    later();
    const before = await sessionsOf(person);
    expectCodeNeeded(await sendSignIn(service, person));
    expect(await sessionsOf(person)).toBe(before);
    const answer = await sendSignIn(service, person, { code: codeOf(person) });
    const authorization = `Bearer ${expectStatus(answer, 200).body.token}`;
    expectStatus(await askMe(service, { authorization }), 200);
  });

  it('takes a code once', async () => {
    const person = await joinWithFactor();
    later();
    const code = codeOf(person);
    expectStatus(await sendSignIn(service, person, { code }), 200);
    expectCodeNeeded(await sendSignIn(service, person, { code }));
    service.clock.advance(STEP_MS);
    expectStatus(await sendSignIn(service, person, { code: codeOf(person) }), 200);
  });

  it('takes a code once of several that show it at the same time', async () => {
    const person = await joinWithFactor();
    later();
    const code = codeOf(person);
    const answers = await Promise.all(
      [0, 1, 2, 3].map(() => sendSignIn(service, person, { code })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 401, 401, 401]);
  });

  it('does not take the code that turned it on, nor one of before the last', async () => {
    const person = await joinWithFactor();
    expectCodeNeeded(await sendSignIn(service, person, { code: codeOf(person) }));
    later();
    expectStatus(await sendSignIn(service, person, { code: codeOf(person, 1) }), 200);
    expectCodeNeeded(await sendSignIn(service, person, { code: codeOf(person) }));
  });

  it.each([
    [-1, 200],
    [1, 200],
    [-2, 401],
    [2, 401],
  ])('takes the code of a clock that is %i steps off: %i', async (steps, status) => {
    const person = await joinWithFactor();
    later();
    // By a chance of three in a million another code of now is the same one.
    while (status !== 200 && codesOfNow(person).has(codeOf(person, steps))) later();
    expectStatus(await sendSignIn(service, person, { code: codeOf(person, steps) }), status);
  });

  it('says nothing of a code where the password is wrong, and uses none up', async () => {
    const person = await joinWithFactor();
    later();
    const code = codeOf(person);
    const wrong = { ...person, password: WRONG_PASSWORD };
    const refused = expectStatus(await sendSignIn(service, wrong, { code }), 401);
    expect(refused.body.codeNeeded).toBeUndefined();
    const nobody = { ...wrong, email: `${randomUUID()}@example.com` };
    const unknown = expectStatus(await sendSignIn(service, nobody, { code }), 401);
    expect({ ...refused.body, requestId: '' }).toEqual({ ...unknown.body, requestId: '' });
    expectStatus(await sendSignIn(service, person, { code }), 200);
  });

  it('asks nobody for a code who has no second factor, and minds none that is sent', async () => {
    const person = await join(service, { role: 'owner' });
    expectStatus(await sendSignIn(service, person, { code: '123456' }), 200);
  });

  it('is still asked for after the password was set anew by a link', async () => {
    const person = await joinWithFactor();
    later();
    const renewed = await service.as('owner').post(`/v1/staff/${person.staffId}/sign-in-link`);
    const password = 'nine brass kettles in the orchard';
    const sent = { token: expectStatus(renewed, 201).body.token, password };
    expectStatus(await post(service, '/v1/sign-in-links/use', sent), 200);
    expectCodeNeeded(await sendSignIn(service, { ...person, password }));
    const code = codeOf(person);
    expectStatus(await sendSignIn(service, { ...person, password }, { code }), 200);
  });
});

describe('a recovery code', () => {
  it('stands in for a code, however it is typed, and is good once', async () => {
    const person = await joinWithFactor();
    const [code = ''] = person.recoveryCodes;
    const typed = ` ${code.toUpperCase().replace('-', ' ')}`;
    const answer = expectStatus(await sendSignIn(service, person, { code: typed }), 200);
    const authorization = `Bearer ${answer.body.token}`;
    const { body } = await askMe(service, { authorization });
    expect(body.secondFactor).toEqual({ isOn: true, recoveryCodesLeft: 9 });
    expectCodeNeeded(await sendSignIn(service, person, { code }));
    expectStatus(await sendSignIn(service, person, { code: person.recoveryCodes[1] }), 200);
  });

  it('is good once of several that show it at the same time', async () => {
    const person = await joinWithFactor();
    const code = person.recoveryCodes[7];
    const answers = await Promise.all(
      [0, 1, 2, 3].map(() => sendSignIn(service, person, { code })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 401, 401, 401]);
  });

  it('of somebody else is worth nothing', async () => {
    const [one, other] = [await joinWithFactor(), await joinWithFactor()];
    expectCodeNeeded(await sendSignIn(service, one, { code: other.recoveryCodes[0] }));
    expectStatus(await sendSignIn(service, other, { code: other.recoveryCodes[0] }), 200);
  });
});

describe('trying codes', () => {
  it('is refused after ten for half an hour, also with the right one, whoever waits between', async () => {
    const person = await joinWithFactor('owner');
    later();
    for (let at = 0; at < 10; at += 1) {
      expectCodeNeeded(await sendSignIn(service, person, { code: wrongFor(person) }));
      // Tries of the account are free again by then.
      service.clock.advance(60_000);
    }
    const code = () => codeOf(person);
    const refused = expectStatus(await sendSignIn(service, person, { code: code() }), 429);
    expectProblem(refused, 'too-many-tries');
    // Ten minutes of thirty are over.
    expect(refused.body.retryAfterSeconds).toBe(20 * 60);
    service.clock.advance(20 * 60_000);
    expectStatus(await sendSignIn(service, person, { code: code() }), 200);
  });

  it('counts as trying the password, and the right password alone forgives nothing', async () => {
    const person = await joinWithFactor();
    later();
    for (let at = 0; at < 10; at += 1) expectCodeNeeded(await sendSignIn(service, person));
    expectStatus(await sendSignIn(service, person, { code: codeOf(person) }), 429);
  });

  it('is no matter of who does not know the password: they lock nobody out of codes', async () => {
    const person = await joinWithFactor();
    later();
    const wrong = { ...person, password: WRONG_PASSWORD };
    for (let at = 0; at < 10; at += 1) {
      expectStatus(await sendSignIn(service, wrong, { code: '123456' }), 401);
    }
    service.clock.advance(60_000);
    expectStatus(await sendSignIn(service, person, { code: codeOf(person) }), 200);
  });
});

describe('changing the password where the second factor is on (OWASP ASVS 5.0, 7.5.1)', () => {
  const newPassword = 'nine brass kettles in the orchard';
  const change = ({ session, password }: WithFactor, sent: object = {}) =>
    post(service, '/v1/change-password', { password, newPassword, ...sent }, session);

  /** The one mistake that is told. */
  function mistakeOf(answer: Response): unknown {
    expectProblem(expectStatus(answer, 400), 'validation-failed');
    const [{ pointer, code }] = answer.body.errors;
    return { pointer, code, codeNeeded: answer.body.codeNeeded };
  }

  it('needs a code besides the password, and signs nobody out without', async () => {
    const person = await joinWithFactor();
    later();
    const session = { authorization: await bearerWith(person) };
    const signedIn = { ...person, session };
    const missing = { pointer: '/code', code: 'missing', codeNeeded: true };
    expect(mistakeOf(await change(signedIn))).toEqual(missing);
    const wrong = await change(signedIn, { code: wrongFor(person) });
    expect(mistakeOf(wrong)).toEqual({ ...missing, code: 'wrong_code' });
    expectStatus(await askMe(service, session), 200);
    service.clock.advance(STEP_MS);
    expectStatus(await change(signedIn, { code: codeOf(person) }), 200);
    expectProblem(await askMe(service, session), 'unauthenticated');
    service.clock.advance(STEP_MS);
    const code = codeOf(person);
    expectStatus(await sendSignIn(service, { ...person, password: newPassword }, { code }), 200);
  });

  it('takes a recovery code, once, and no code that was used', async () => {
    const person = await joinWithFactor('owner');
    // The first code of the app turned it on.
    expect(mistakeOf(await change(person, { code: codeOf(person) }))).toMatchObject({
      code: 'wrong_code',
    });
    const [code] = person.recoveryCodes;
    expectStatus(await change(person, { code }), 200);
    const changed = { ...person, password: newPassword };
    expectCodeNeeded(await sendSignIn(service, changed, { code }));
  });

  it('tells only who has the password that a code is needed', async () => {
    const person = await joinWithFactor();
    const refused = await change(person, { password: WRONG_PASSWORD });
    expect(mistakeOf(refused)).toEqual({ pointer: '/password', code: 'wrong_password' });
  });

  it('counts tries of codes as signing in does', async () => {
    const person = await joinWithFactor();
    const code = wrongFor(person);
    for (let at = 0; at < 10; at += 1) {
      expectStatus(await change(person, { code }), 400);
      service.clock.advance(60_000);
    }
    const refused = expectStatus(await change(person, { code: person.recoveryCodes[0] }), 429);
    expectProblem(refused, 'too-many-tries');
    expectStatus(await sendSignIn(service, person, { code: person.recoveryCodes[0] }), 429);
    later();
  });

  it('asks nobody for a code who has no second factor', async () => {
    const person = await join(service, { role: 'owner' });
    const session = await bearerOf(service, person);
    const sent = { password: person.password, newPassword };
    expectStatus(await post(service, '/v1/change-password', sent, session), 200);
  });

  async function bearerWith(person: WithFactor): Promise<string> {
    const answer = await sendSignIn(service, person, { code: codeOf(person) });
    return `Bearer ${expectStatus(answer, 200).body.token}`;
  }
});

describe('taking the second factor away', () => {
  const remove = (session: Record<string, string>, sent: object) =>
    post(service, '/v1/second-factor/remove', sent, session);

  it('needs the password and a code where it is the own one', async () => {
    const person = await joinWithFactor('owner');
    const { session, password } = person;
    service.clock.advance(STEP_MS);
    const code = codeOf(person);
    const noPassword = await remove(session, { password: WRONG_PASSWORD, code });
    expect(expectStatus(noPassword, 400).body.errors[0]).toMatchObject({ pointer: '/password' });
    const noCode = await remove(session, { password, code: wrongFor(person) });
    expect(expectStatus(noCode, 400).body.errors[0]).toMatchObject({ pointer: '/code' });
    const off = expectStatus(await remove(session, { password, code }), 200);
    expect(off.body).toEqual({ isOn: false, recoveryCodesLeft: 0 });
    expectStatus(await sendSignIn(service, person), 200);
    expect((await remove(session, { password, code })).body).toMatchObject({
      ...{ status: 409, currentState: 'off' },
    });
  });

  it('wipes the secret, and what counted with it is worth nothing for the next one', async () => {
    const person = await joinWithFactor();
    const { session, password, recoveryCodes } = person;
    expectStatus(await remove(session, { password, code: recoveryCodes[0] }), 200);
    const kept = await service.owner.query(
      'SELECT sealed_secret FROM staff_second_factor WHERE staff_id = $1',
      [person.staffId],
    );
    expect(kept.rows).toEqual([{ sealed_secret: null }]);
    const renewed = await turnOn(service, person);
    later();
    expectCodeNeeded(await sendSignIn(service, person, { code: recoveryCodes[1] }));
    expectStatus(await sendSignIn(service, person, { code: codeOf(renewed) }), 200);
  });

  const removeOf = (staffId: string) =>
    service.as('owner').post(`/v1/staff/${staffId}/remove-second-factor`);

  it('is the owner’s for others, ends their sessions and asks for no code any more', async () => {
    const person = await joinWithFactor();
    const listed = async () => {
      const list = await service.as('owner').get('/v1/staff-access?limit=100');
      return list.body.items.find(({ id }: { id: string }) => id === person.staffId);
    };
    expect(await listed()).toMatchObject({ hasSecondFactor: true });
    const off = expectStatus(await removeOf(person.staffId), 200);
    expect(off.body).toMatchObject({ id: person.staffId, hasSecondFactor: false });
    expect(await listed()).toMatchObject({ hasSecondFactor: false });
    expectProblem(await askMe(service, person.session), 'unauthenticated');
    expectStatus(await sendSignIn(service, person), 200);
    expect((await removeOf(person.staffId)).body).toMatchObject({ currentState: 'off' });
  });

  it('is nobody else’s, and the owner’s own one is not removed so', async () => {
    const dispatcher = await joinWithFactor();
    const owner = await joinWithFactor('owner');
    const path = (staffId: string) => `/v1/staff/${staffId}/remove-second-factor`;
    const key = () => ({ 'idempotency-key': randomUUID() });
    const byDispatcher = { ...dispatcher.session, ...key() };
    expectStatus(await post(service, path(owner.staffId), {}, byDispatcher), 403);
    const own = { ...owner.session, ...key() };
    const answer = await post(service, path(owner.staffId), {}, own);
    expect(expectStatus(answer, 409).body).toMatchObject({ currentState: 'own' });
    expectStatus(await removeOf(randomUUID()), 404);
  });
});

describe('where the key of the service is another', () => {
  it('says that codes cannot be checked, and recovery codes go on', async () => {
    const person = await joinWithFactor();
    later();
    const { db, clock } = service;
    const log = service.app.log as Parameters<typeof buildApp>[0]['log'];
    const app = await buildApp({ db, clock, ids: timedIds(clock), log, papers: testPapers() });
    const signIn = (code: string) =>
      app.inject({ method: 'POST', url: '/v1/sign-in', payload: { ...account(person), code } });
    try {
      const refused = await signIn(codeOf(person));
      expect([refused.statusCode, refused.json().code]).toEqual([503, 'unavailable']);
      expect(refused.json().detail).toContain('recovery code');
      expect((await signIn(person.recoveryCodes[0] ?? '')).statusCode).toBe(200);
    } finally {
      await app.close();
    }
  });
});

describe('the journal of second factors', () => {
  it('tells each step and why somebody was refused, and no secret and no code', async () => {
    const person = await joinWithFactor();
    later();
    const used = codeOf(person);
    await sendSignIn(service, person);
    await sendSignIn(service, person, { code: wrongFor(person) });
    await sendSignIn(service, person, { code: used });
    await sendSignIn(service, person, { code: person.recoveryCodes[0] });
    await service.as('owner').post(`/v1/staff/${person.staffId}/remove-second-factor`);
    const written = await service.owner.query<{ event: string; changes: string }>(
      `SELECT event, changes FROM journal_entry
       WHERE subject_id = $1 OR changes LIKE '%' || $1 || '%' ORDER BY id`,
      [person.staffId],
    );
    const told = written.rows.map(({ event, changes }) => {
      const { cause, secondFactor } = JSON.parse(changes).after ?? {};
      return [event, cause ?? secondFactor].filter(Boolean).join(': ');
    });
    expect(told.slice(told.indexOf('session.started: nothing'))).toEqual([
      'session.started: nothing',
      'second_factor.begun',
      'second_factor.turned_on',
      'sign_in.refused: code_missing',
      'sign_in.refused: code_wrong',
      'session.started: of_app',
      'session.started: recovery',
      'second_factor.ended: by_owner',
      'session.ended: second_factor_removed',
    ]);
    const secrets = [person.secret, used, wrongFor(person), ...person.recoveryCodes];
    for (const { changes } of written.rows) {
      for (const secret of secrets) expect(changes).not.toContain(`"${secret}`);
    }
  });

  it('stands beside a database that knows neither the secret nor a recovery code', async () => {
    const person = await joinWithFactor();
    const kept = await service.owner.query<{ row: string }>(
      `SELECT f::text AS row FROM staff_second_factor f UNION ALL SELECT c::text FROM staff_recovery_code c`,
    );
    const secrets = [person.secret, person.secretHex, ...person.recoveryCodes];
    for (const { row } of kept.rows) {
      for (const secret of secrets) expect(row).not.toContain(secret);
    }
  });
});

function passwordOf({ password }: Invited): { password: string } {
  return { password };
}

function account({ email, password }: Invited): { email: string; password: string } {
  return { email, password };
}
