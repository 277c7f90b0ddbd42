import { randomUUID } from 'node:crypto';
import { pino } from 'pino';
import type { Response } from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { localMomentText } from '../../src/company/index.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { offerFirstLink } from '../../src/sign-in/index.ts';
import { words } from '../../src/sign-in-pages/words.ts';
import { codeApp } from '../harness/code-app.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase } from '../harness/test-database.ts';
import { testPapers } from '../harness/test-papers.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';
import { askMe, goodPassword, type Invited, invite, join, sendSignIn } from './people.ts';
import { turnOn } from './turn-on.ts';
import { type Visitor, visitor } from './visitor.ts';

const own = words.en;
const SESSION = '__Host-evenhand';
const NO_SESSION = randomUUID();

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const later = () => service.clock.advance(6 * 3_600_000);

/** Signs somebody in at the page. */
async function signedIn(person: Invited, code?: string): Promise<Visitor> {
  const browser = visitor(service);
  const { email, password } = person;
  const answer = await browser.send('/sign-in', { email, password, code: code ?? '' });
  expectLed(answer, '/account');
  return browser;
}

function expectLed(answer: Response, to: string): void {
  expect([answer.status, answer.headers['location']], answer.text).toEqual([303, to]);
}

/** The text of a page as it is read. */
function textOf(answer: Response): string {
  return answer.text
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

describe('the sign-in page', () => {
  it('lets a person in with a cookie of a session, and leads to the account', async () => {
    const person = await join(service, { role: 'technician', name: 'Jessamy <b>Quillfeather' });
    const browser = await signedIn(person);
    expect(browser.cookies.get(SESSION)).toMatch(/^[\w-]{43}$/);
    const account = await browser.get('/account');
    expect(textOf(account)).toContain('technician. You are signed in.');
    expect(account.text).toContain('Jessamy &lt;b&gt;Quillfeather');
    expect(account.text).not.toContain('second-factor');
    expectLed(await browser.get('/sign-in'), '/account');
  });

  it('says what is wrong, keeps the e-mail that was typed and never the password', async () => {
    const { email } = await join(service);
    const password = 'six loud herons on the bridge';
    const browser = visitor(service);
    const answer = await browser.send('/sign-in', { email, password, code: '' });
    expect(answer.status).toBe(401);
    expect(textOf(answer)).toContain(own.troubles.wrong);
    expect(answer.text).toContain(`value="${email}"`);
    expect(answer.text).not.toContain(password);
    expect(browser.cookies.has(SESSION)).toBe(false);
    const blank = await browser.send('/sign-in', { email, password: '', code: '' });
    expect([blank.status, textOf(blank)]).toEqual([
      422,
      expect.stringContaining(own.troubles.missing),
    ]);
  });

  it('asks for a code where one is needed, and takes it', async () => {
    const person = await turnOn(service, await join(service, { role: 'dispatcher' }));
    later();
    const { email, password } = person;
    const browser = visitor(service);
    const send = (code: string) => browser.send('/sign-in', { email, password, code });
    const asked = await send('');
    expect([asked.status, textOf(asked)]).toEqual([
      401,
      expect.stringContaining(own.troubles.code_needed),
    ]);
    expect(browser.cookies.has(SESSION)).toBe(false);
    const wrong = await send('abc');
    expect(textOf(wrong)).toContain(own.troubles.wrong_code);
    expect(wrong.text).not.toContain('value="abc"');
    expectLed(await send(person.app(service.clock.now())), '/account');
  });

  it('ends the session that the browser had, when another person signs in', async () => {
    const browser = await signedIn(await join(service));
    const before = { cookie: `${SESSION}=${browser.cookies.get(SESSION)}` };
    const { email, password } = await join(service);
    expectLed(await browser.send('/sign-in', { email, password, code: '' }), '/account');
    expect((await browser.get('/account')).status).toBe(200);
    expect((await askMe(service, before)).status).toBe(401);
  });

  it('says how long to wait after too many tries', async () => {
    const { email } = await join(service);
    const browser = visitor(service);
    const send = () => browser.send('/sign-in', { email, password: 'wrong', code: '' });
    for (let at = 0; at < 10; at += 1) expect((await send()).status).toBe(401);
    const refused = await send();
    expect([refused.status, textOf(refused)]).toEqual([
      429,
      expect.stringContaining('Wait 1 minute, then'),
    ]);
  });

  it('speaks Spanish to who asks for it, also when a form comes back', async () => {
    const browser = visitor(service);
    expect(textOf(await browser.get('/sign-in?lang=es'))).toContain(words.es.signIn.title);
    const sent = { language: 'es', email: 'nobody@example.com', password: 'wrong', code: '' };
    const answer = await visitor(service).send('/sign-in', sent);
    expect(textOf(answer)).toContain(words.es.troubles.wrong);
  });
});

describe('a form of another site', () => {
  it.each([
    '/sign-in',
    '/set-password',
    '/account/sign-out',
    '/account/sign-out-everywhere',
    `/account/sessions/${NO_SESSION}/end`,
    '/account/password',
    '/account/second-factor/begin',
    '/account/second-factor/confirm',
    '/account/second-factor/remove',
  ])('does nothing at %s', async (path) => {
    const person = await join(service, { role: 'owner' });
    const browser = await signedIn(person);
    const { email, password } = person;
    const answer = await browser.send(
      path,
      { email, password, code: '' },
      { 'sec-fetch-site': 'cross-site' },
    );
    expect([answer.status, textOf(answer)]).toEqual([
      403,
      expect.stringContaining(own.crossSite.title),
    ]);
    expect(answer.headers['set-cookie']).toBeUndefined();
    expect((await browser.get('/account')).status).toBe(200);
  });
});

describe('a link', () => {
  it('leaves the address, sets the password once and leads to the sign-in page', async () => {
    const { token, email } = await invite(service);
    const browser = visitor(service);
    const entered = await browser.get(`/set-password/${token}`);
    expectLed(entered, '/set-password');
    expect(entered.headers['referrer-policy']).toBe('no-referrer');
    const shown = await browser.get('/set-password');
    expect(textOf(shown)).toContain('Hello Jessamy Quillfeather.');
    expect(shown.text).not.toContain(token);
    const set = (password: string, again = password) =>
      browser.send('/set-password', { password, again });
    expect(textOf(await set('too short'))).toContain(own.troubles.too_short);
    expect(textOf(await set('Home Comfort 2026!'))).toContain(own.troubles.of_the_company);
    const differs = await set(goodPassword, `${goodPassword}!`);
    expect(textOf(differs)).toContain(own.troubles.not_the_same);
    expect(differs.text).not.toContain(goodPassword);
    expectLed(await set(goodPassword), '/sign-in?password=set');
    expect(textOf(await browser.get('/sign-in?password=set'))).toContain(own.signIn.passwordSet);
    const again = visitor(service);
    await again.get(`/set-password/${token}`);
    const dead = await again.get('/set-password');
    expect([dead.status, textOf(dead)]).toEqual([
      404,
      expect.stringContaining(own.setPassword.dead.title),
    ]);
    await signedIn({ staffId: '', email, password: goodPassword });
  });

  it.each(['nothing', '%3B%20Domain=example.com', 'a%0D%0Aset-cookie:%20x=y'])(
    'that opens nothing says so, whatever stands in it: %s',
    async (token) => {
      const browser = visitor(service);
      const entered = await browser.get(`/set-password/${token}`);
      expectLed(entered, '/set-password');
      expect(String(entered.headers['set-cookie'])).toMatch(
        /^__Host-join=(nothing)?; Max-Age=\d+; Path=\/; Secure; HttpOnly; SameSite=Lax$/,
      );
      expect((await browser.get('/set-password')).status).toBe(404);
      expect((await browser.send('/set-password', { password: goodPassword })).status).toBe(404);
    },
  );
});

describe('the second factor at its page', () => {
  it('is turned on with a picture, a secret in groups of four and a first code, and off again', async () => {
    const person = await join(service, { role: 'owner' });
    const browser = await signedIn(person);
    const at = (step: string, fields: object) =>
      browser.send(`/account/second-factor/${step}`, fields);
    const wrong = await at('begin', { password: 'six loud herons on the bridge' });
    expect(textOf(wrong)).toContain(own.troubles.wrong_password);
    const begun = await at('begin', { password: person.password });
    const uri = /href="(otpauth:[^"]+)"/.exec(begun.text)?.[1]?.replaceAll('&amp;', '&') ?? '';
    const secret = new URL(uri).searchParams.get('secret') ?? '';
    expect(textOf(begun)).toContain(secret.match(/.{4}/g)?.join(' '));
    expect(begun.headers['cache-control']).toBe('no-store');
    // Another look at the page begins anew, and shows no secret.
    expect((await browser.get('/account/second-factor')).text).not.toContain('otpauth');
    const code = codeApp(uri)(service.clock.now());
    const mistyped = await at('confirm', { code: 'abc' });
    expect([mistyped.status, textOf(mistyped)]).toEqual([
      400,
      expect.stringContaining(own.troubles.wrong_code),
    ]);
    const on = await at('confirm', { code });
    const codes = on.text.match(/\d[0-9a-z]{4}-[0-9a-z]{5}(?=<)/g) ?? [];
    expect(codes).toHaveLength(10);
    expect(textOf(await browser.get('/account'))).toContain('On. 10 recovery codes are left.');
    const [recovery = ''] = codes;
    const twice = await at('confirm', { code });
    expect(textOf(twice)).toContain(own.troubles.not_now);
    const { password } = person;
    expectLed(await at('remove', { password, code: recovery.toUpperCase() }), '/account');
    expect(textOf(await browser.get('/account'))).toContain(own.account.off);
    expect((await sendSignIn(service, person)).status).toBe(200);
  });

  it('is not for technicians', async () => {
    const browser = await signedIn(await join(service));
    expectLed(await browser.get('/account/second-factor'), '/account');
    const sent = { password: goodPassword };
    expectLed(await browser.send('/account/second-factor/begin', sent), '/account');
    const begun = await service.owner.query(
      `SELECT FROM staff_second_factor f JOIN staff s ON s.id = f.staff_id WHERE role = 'technician'`,
    );
    expect(begun.rows).toEqual([]);
  });

  it.each(['begin', 'confirm', 'remove'])('leads back from the address of %s', async (step) => {
    const browser = visitor(service);
    expectLed(await browser.get(`/account/second-factor/${step}`), '/account/second-factor');
  });
});

describe('another password at the page', () => {
  const newPassword = 'nine brass kettles in the orchard';

  it('needs the present one, ends all sessions and leads to the sign-in page', async () => {
    const person = await join(service);
    const [other, here] = [await signedIn(person), await signedIn(person)];
    expect((await here.get('/account')).text).toContain('href="/account/password"');
    const form = await here.get('/account/password');
    expect(textOf(form)).toContain(own.changePassword.lead);
    expect(form.text).not.toContain('name="code"');
    const { password } = person;
    const send = (fields: object) =>
      here.send('/account/password', { password, newPassword, again: newPassword, ...fields });
    const tries: [object, number, string][] = [
      [{ password: 'six loud herons on the bridge' }, 400, own.troubles.wrong_password],
      [{ password: '' }, 422, own.troubles.missing],
      [{ again: `${newPassword}!` }, 422, own.troubles.not_the_same],
      [{ newPassword: 'too short', again: 'too short' }, 400, own.troubles.too_short],
      [
        { newPassword: 'Home Comfort 2026!', again: 'Home Comfort 2026!' },
        ...([400, own.troubles.of_the_company] as const),
      ],
    ];
    for (const [fields, status, said] of tries) {
      const refused = await send(fields);
      expect([refused.status, textOf(refused)]).toEqual([status, expect.stringContaining(said)]);
      expect(refused.text).not.toContain(password);
      expect(refused.text).not.toContain(newPassword);
    }
    expect((await other.get('/account')).status).toBe(200);
    const done = await send({});
    expectLed(done, '/sign-in?password=changed');
    expect(done.headers['clear-site-data']).toBe('"cache", "storage"');
    expect(textOf(await here.get('/sign-in?password=changed'))).toContain(
      own.signIn.passwordChanged,
    );
    expectLed(await other.get('/account'), '/sign-in');
    expect((await sendSignIn(service, person)).status).toBe(401);
    await signedIn({ ...person, password: newPassword });
  });

  it('needs a code as well where one is asked for', async () => {
    const person = await turnOn(service, await join(service, { role: 'dispatcher' }));
    later();
    const { password, app } = person;
    const browser = await signedIn(person, app(service.clock.now()));
    // Another code, and the session still goes on.
    service.clock.advance(60_000);
    expect((await browser.get('/account/password')).text).toContain('name="code"');
    const send = (code: string) =>
      browser.send('/account/password', { password, newPassword, again: newPassword, code });
    const asked = await send('');
    expect([asked.status, textOf(asked)]).toEqual([
      400,
      expect.stringContaining(own.troubles.code_needed),
    ]);
    const wrong = await send('abc');
    expect(textOf(wrong)).toContain(own.troubles.wrong_code);
    expectLed(await send(app(service.clock.now())), '/sign-in?password=changed');
  });

  it('holds tries of the present one against the account, and says how long to wait', async () => {
    const browser = await signedIn(await join(service));
    const sent = { password: 'wrong', newPassword, again: newPassword };
    const send = () => browser.send('/account/password', sent);
    for (let at = 0; at < 10; at += 1) expect((await send()).status).toBe(400);
    const refused = await send();
    expect([refused.status, textOf(refused)]).toEqual([
      429,
      expect.stringContaining('Wait 1 minute, then'),
    ]);
  });

  it('speaks Spanish to whoever does, up to the sign-in page', async () => {
    const person = await join(service);
    const browser = visitor(service);
    await browser.get('/sign-in?lang=es');
    const { email, password } = person;
    await browser.send('/sign-in', { email, password, code: '' });
    expect(textOf(await browser.get('/account/password'))).toContain(words.es.changePassword.lead);
    const sent = { password, newPassword, again: newPassword };
    const left = await browser.send('/account/password', sent);
    const shown = await browser.get(String(left.headers['location']));
    expect(textOf(shown)).toContain(words.es.signIn.passwordChanged);
  });
});

describe('where somebody is signed in, at their account (OWASP ASVS 5.0, 7.5.2)', () => {
  /** The way to the page of each session that is not the one that looks. */
  const waysIn = ({ text }: Response) =>
    [...text.matchAll(/href="(\/account\/sessions\/[^"]+)"/g)].map(([, way = '']) => way);

  it('is listed with the page of each, where that one is ended with the password', async () => {
    const person = await join(service);
    const lost = await signedIn(person);
    const now = service.clock.now();
    const began = localMomentText(now, 'America/Chicago');
    const end = localMomentText(new Date(now.getTime() + 30 * 86_400_000), 'America/Chicago');
    service.clock.advance(3_600_000);
    const here = await signedIn(person);
    const account = await here.get('/account');
    expect(textOf(account)).toContain(
      `A browser Signed in ${began}. Last used ${began}. Ends ${end} at the latest.`,
    );
    expect(textOf(account)).toContain(own.sessions.thisOne);
    const [way = '', ...others] = waysIn(account);
    expect(others).toEqual([]);
    expect(textOf(await here.get(way))).toContain(own.sessions.endHint);
    const wrong = await here.send(`${way}/end`, { password: 'six loud herons on the bridge' });
    expect([wrong.status, textOf(wrong)]).toEqual([
      400,
      expect.stringContaining(own.troubles.wrong_password),
    ]);
    const blank = await here.send(`${way}/end`, { password: '' });
    expect(textOf(blank)).toContain(own.troubles.missing);
    expect((await lost.get('/account')).status).toBe(200);
    expectLed(await here.send(`${way}/end`, { password: person.password }), '/account');
    expectLed(await lost.get('/account'), '/sign-in');
    expect(waysIn(await here.get('/account'))).toEqual([]);
  });

  it('is told by what the browser says of itself, which is text whatever it is', async () => {
    const person = await join(service);
    const { email, password } = person;
    for (const said of ["&'x", `<b>${'x'.repeat(500)}`]) {
      await visitor(service).send(
        '/sign-in',
        { email, password, code: '' },
        { 'sec-fetch-site': 'same-origin', 'user-agent': said },
      );
    }
    const { text } = await (await signedIn(person)).get('/account');
    expect(text).toContain('&amp;&#39;x</b>');
    expect(text).not.toContain('<b>xxx');
  });

  it('leads to the sign-in page whoever ends the one that they look at', async () => {
    const person = await join(service);
    const [other, here] = [await signedIn(person), await signedIn(person)];
    const [way = ''] = waysIn(await here.get('/account'));
    const left = await other.send(`${way}/end`, { password: person.password });
    expectLed(left, '/sign-in');
    expect(left.headers['clear-site-data']).toBe('"cache", "storage"');
    expect((await here.get('/account')).status).toBe(200);
  });

  it('is nothing to see or to end where it is over, another’s or none at all', async () => {
    const person = await join(service);
    const [over, here] = [await signedIn(person), await signedIn(person)];
    const [past = ''] = waysIn(await here.get('/account'));
    await over.send('/account/sign-out', {});
    const stranger = await join(service);
    const [one, two] = [await signedIn(stranger), await signedIn(stranger)];
    const [foreign = ''] = waysIn(await one.get('/account'));
    const { password } = person;
    const pages = new Set<string>();
    for (const way of [past, foreign, `/account/sessions/${NO_SESSION}`, '/account/sessions/x']) {
      for (const page of [await here.get(way), await here.send(`${way}/end`, { password })]) {
        expect(page.status).toBe(404);
        pages.add(page.text);
      }
    }
    expect(pages.size).toBe(1);
    expect((await two.get('/account')).status).toBe(200);
  });

  it('is led to from the address of a form that came back', async () => {
    const browser = visitor(service);
    expectLed(await browser.get(`/account/sessions/${NO_SESSION}/end`), '/account');
  });
});

describe('signing out at the page', () => {
  it('ends this session and no other; everywhere, all of them', async () => {
    const person = await join(service);
    const [one, other, third] = [
      await signedIn(person),
      await signedIn(person),
      await signedIn(person),
    ];
    expectLed(await one.send('/account/sign-out', {}), '/sign-in');
    expect(one.cookies.has(SESSION)).toBe(false);
    expectLed(await one.get('/account'), '/sign-in');
    expect((await other.get('/account')).status).toBe(200);
    expectLed(await other.send('/account/sign-out-everywhere', {}), '/sign-in');
    expectLed(await third.get('/account'), '/sign-in');
  });

  it.each(['/account/sign-out', '/account/sign-out-everywhere'])(
    'has the browser forget pages and cookies of this host, and no other’s, at %s (OWASP ASVS 5.0, 14.3.1)',
    async (path) => {
      const browser = await signedIn(await join(service));
      browser.cookies.set('__Host-q-17', 'the link of a customer');
      browser.cookies.set('__Host-lang', 'es');
      browser.cookies.set('of-the-whole-domain', 'of another program of the company');
      const left = await browser.send(path, {});
      expectLed(left, '/sign-in');
      expect(left.headers['clear-site-data']).toBe('"cache", "storage"');
      expect([...browser.cookies.keys()]).toEqual(['__Host-lang', 'of-the-whole-domain']);
      expect(textOf(await browser.get('/sign-in'))).toContain(words.es.signIn.title);
      const alreadyOut = await browser.send(path, {});
      expect(alreadyOut.headers['clear-site-data']).toBe('"cache", "storage"');
    },
  );

  it.each([
    '/account',
    '/account/password',
    `/account/sessions/${NO_SESSION}`,
    '/account/second-factor',
  ])('leaves nothing to see at %s, nor a token of a program', async (path) => {
    const browser = visitor(service);
    expectLed(await browser.get(path), '/sign-in');
    browser.cookies.set(SESSION, service.staff.owner.token);
    expectLed(await browser.get(path), '/sign-in');
  });
});

describe('the pages of signing in', () => {
  it.each(['/sign-in', '/set-password', '/account', '/account/password', '/account/second-factor'])(
    'load nothing foreign, are framed by nobody and kept by no one: %s',
    async (path) => {
      const browser = await signedIn(await join(service, { role: 'owner' }));
      for (const each of [browser, visitor(service)]) {
        const { headers, text } = await each.get(path);
        expect(headers['content-security-policy']).toContain("default-src 'none'");
        expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
        expect(headers['cache-control']).toBe('no-store');
        expect(text).not.toMatch(/<script|<style|\sstyle=|\son\w+=/);
      }
    },
  );

  it('say what to do where no browser would keep the cookie', async () => {
    const { app } = service;
    const inject = (method: 'GET' | 'POST', headers: object) =>
      app.inject({ method, url: '/sign-in', headers: { host: 'jobs.example.com', ...headers } });
    const looked = await inject('GET', {});
    expect([looked.statusCode, looked.body]).toEqual([
      403,
      expect.stringContaining(own.needsHttps.title),
    ]);
    const sent = await inject('POST', {
      'content-type': 'application/x-www-form-urlencoded',
      'sec-fetch-site': 'same-origin',
    });
    expect(sent.statusCode).toBe(403);
  });

  it('take no body but a form', async () => {
    const answer = await service.app.inject({
      method: 'POST',
      url: '/sign-in',
      headers: { 'sec-fetch-site': 'same-origin' },
      payload: { email: 'somebody@example.com' },
    });
    expect(answer.statusCode).toBe(415);
  });
});

describe('the first owner', () => {
  it('says who they are where no company is set up yet, and comes in', async () => {
    const fresh = await createFresh();
    try {
      const link = await offerFirstLink(fresh.deps);
      const browser = visitor(fresh);
      await browser.get(`/set-password/${link?.token}`);
      const shown = await browser.get('/set-password');
      expect(textOf(shown)).toContain(own.setPassword.leadFirst);
      const person = { name: 'Odalys Fernsby', email: 'odalys@sparrowgate.example.com' };
      const sent = { ...person, password: goodPassword, again: goodPassword };
      const bad = await browser.send('/set-password', { ...sent, email: 'odalys' });
      expect(textOf(bad)).toContain(own.troubles.not_an_email);
      expect(bad.text).toContain('value="Odalys Fernsby"');
      const nameless = await browser.send('/set-password', { ...sent, name: '' });
      expect(textOf(nameless)).toContain(own.troubles.missing);
      expectLed(await browser.send('/set-password', sent), '/sign-in?password=set');
      const { email } = person;
      expectLed(
        await browser.send('/sign-in', { email, password: goodPassword, code: '' }),
        '/account',
      );
      const begin = { password: goodPassword };
      const begun = await browser.send('/account/second-factor/begin', begin);
      expect(begun.text).toContain('otpauth://totp/Evenhand:');
    } finally {
      await fresh.close();
    }
  });
});

/** A service that nobody has set up. */
async function createFresh() {
  const database = await createTestDatabase();
  const clock = fixedClock();
  const log = pino({ level: 'silent' });
  const deps = { db: database.db, clock, ids: timedIds(clock), log, papers: testPapers() };
  const app = await buildApp(deps);
  await app.listen({ port: 0, host: '127.0.0.1' });
  const close = async () => {
    await app.close();
    await database.drop();
  };
  return { deps, app, close };
}

describe('the words of these pages in Spanish', () => {
  const flat = (value: unknown, path = ''): [string, string][] => {
    if (typeof value === 'string') return [[path, value]];
    if (typeof value === 'function') return [[path, String(value(2, 'ROLE'))]];
    return Object.entries(value ?? {}).flatMap(([key, each]) => flat(each, `${path}.${key}`));
  };
  const spanish = new Map(flat(words.es));

  it.each(flat(words.en))('are other words, with the same figures: %s', (path, text) => {
    expect(spanish.get(path)).not.toBe(text);
    const figures = (said = '') => said.match(/\d+|ROLE/g);
    expect(figures(spanish.get(path))).toEqual(figures(text));
  });
});
