import { randomBytes } from 'node:crypto';
import { Writable } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { routes } from '../../src/app.ts';
import { createLog } from '../../src/platform/log.ts';
import { routesOfRouter } from '../contract/routes-of-router.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { noForm, type Offer, offerAtLink, yesForm } from '../harness/visitor.ts';
import { rowVersions } from './row-versions.ts';

/** To whom the pages beside the interface open. */
const opensTo: Readonly<
  Record<string, 'everybody' | 'link' | 'quote' | 'paper' | 'calendar' | 'session'>
> = {
  'GET /': 'everybody',
  'GET /.well-known/jwks.json': 'everybody',
  'GET /docs': 'everybody',
  'GET /docs/': 'everybody',
  'GET /docs/*': 'everybody',
  'GET /docs/json': 'everybody',
  'GET /docs/static/index.html': 'everybody',
  'GET /docs/static/swagger-initializer.js': 'everybody',
  'GET /docs/yaml': 'everybody',
  'GET /favicon.ico': 'everybody',
  'GET /healthz': 'everybody',
  'GET /problems': 'everybody',
  'GET /problems/{slug}': 'everybody',
  'GET /readyz': 'everybody',
  'GET /sign-in': 'everybody',
  'POST /sign-in': 'everybody',
  'GET /verify': 'everybody',
  'POST /verify': 'everybody',
  'GET /page-{hash}.css': 'everybody',
  'GET /calendar/{token}.ics': 'calendar',
  'GET /paper': 'paper',
  'GET /paper/{hash}': 'paper',
  'GET /paper/{hash}/': 'paper',
  'GET /paper/{hash}/link': 'paper',
  'POST /paper/{hash}/link': 'paper',
  'GET /account': 'session',
  'GET /account/password': 'session',
  'POST /account/password': 'session',
  'GET /account/sessions/{sessionId}': 'session',
  'GET /account/sessions/{sessionId}/end': 'session',
  'POST /account/sessions/{sessionId}/end': 'session',
  'GET /account/second-factor': 'session',
  'GET /account/second-factor/begin': 'session',
  'GET /account/second-factor/confirm': 'session',
  'GET /account/second-factor/remove': 'session',
  'POST /account/second-factor/begin': 'session',
  'POST /account/second-factor/confirm': 'session',
  'POST /account/second-factor/remove': 'session',
  'POST /account/sign-out': 'session',
  'POST /account/sign-out-everywhere': 'session',
  'GET /set-password': 'link',
  'GET /set-password/{token}': 'link',
  'POST /set-password': 'link',
  'GET /q/{token}': 'link',
  'GET /q/{token}/': 'link',
  'GET /your-quote': 'quote',
  'GET /your-quote/{number}': 'quote',
  'GET /your-quote/{number}/': 'quote',
  'GET /your-quote/{number}/accept': 'quote',
  'GET /your-quote/{number}/cancel': 'quote',
  'GET /your-quote/{number}/closed': 'quote',
  'GET /your-quote/{number}/decline': 'quote',
  'GET /your-quote/{number}/leave': 'quote',
  'GET /your-quote/{number}/paper': 'quote',
  'GET /your-quote/{number}/receipt': 'quote',
  'POST /your-quote/{number}/accept': 'quote',
  'POST /your-quote/{number}/cancel': 'quote',
  'POST /your-quote/{number}/decline': 'quote',
  'POST /your-quote/{number}/leave': 'quote',
};

const logged: string[] = [];
let service: TestService;
let own: Offer;
let other: Offer;
let calendar: { path: string; token: string; id: string };
beforeAll(async () => {
  const sink = new Writable({
    write: (chunk, _, done) => {
      logged.push(String(chunk));
      done();
    },
  });
  service = await createTestService({ log: createLog('trace', sink) });
  [own, other] = [await offerAtLink(service), await offerAtLink(service)];
  const feeds = `/v1/technicians/${service.staff.technician.id}/calendar-feeds`;
  const made = expectStatus(await service.as('technician').post(feeds), 201);
  const path = new URL(made.body.url).pathname;
  calendar = { path, token: path.split('/').at(-1)?.replace('.ics', '') ?? '', id: made.body.id };
});
afterAll(() => service.close());

/** A number that no quote has. */
const NOWHERE = '999999999';

describe('every page', () => {
  it('stands in the table above, and none that is gone', async () => {
    const ofInterface = new Set(
      routes.map(({ method, path }) => `${method} ${path.replace(/:(\w+)/g, '{$1}')}`),
    );
    const pages = (await routesOfRouter())
      .filter((each) => !ofInterface.has(each))
      .map((each) => each.replace(/page-[0-9a-f]+/, 'page-{hash}'));
    const added = pages.filter((each) => opensTo[each] === undefined);
    expect(added, 'say in `opensTo` of this file to whom each of these opens').toEqual([]);
    expect(pages.sort()).toEqual(Object.keys(opensTo).sort());
  });
});

const quotePages = Object.keys(opensTo)
  .filter((page) => opensTo[page] === 'quote' && page.includes('{number}'))
  .map((page) => page.split(' '))
  .map(([method = '', path = '']) => ({ method, path }));

describe('the cookie of a link', () => {
  it.each(quotePages)('opens one quote and nothing else: $method $path', async (page) => {
    const before = await rowVersions(service);
    const cookies = {
      'its own': cookieOf(own, numberOf(own)),
      'that of another quote, under its name': cookieOf(own, numberOf(other)),
      nothing: '',
    };
    for (const [shown, cookie] of Object.entries(cookies)) {
      const foreign = await open(page, numberOf(other), cookie);
      const missing = await open(page, NOWHERE, cookie);
      expect(told(foreign, numberOf(other)), shown).toEqual(told(missing, NOWHERE));
      expect(foreign.text, shown).not.toContain(other.quote.body.options[0].title);
    }
    expect(await rowVersions(service)).toEqual(before);
  });

  it('opens that one, or nothing would have been kept closed', async () => {
    const page = { method: 'GET', path: '/your-quote/{number}' };
    for (const offer of [own, other]) {
      const shown = await open(page, numberOf(offer), cookieOf(offer, numberOf(offer)));
      expect(shown.status).toBe(200);
      expect(shown.text).toContain(offer.quote.body.options[0].title);
    }
  });

  it('is not worth more with a token of the staff, and that token opens no page', async () => {
    const page = { method: 'GET', path: '/your-quote/{number}' };
    const authorization = `Bearer ${service.staff.owner.token}`;
    expect((await open(page, numberOf(other), '', { authorization })).status).toBe(404);
  });
});

describe('a secret in an address', () => {
  it('that was never given and one that was revoked are one and the same', async () => {
    const offer = await offerAtLink(service);
    const revoke = `/v1/quote-links/${offer.linkId}/revoke`;
    expectStatus(await service.as('dispatcher').post(revoke), 200);
    const unknown = randomBytes(32).toString('base64url');
    const [revoked, missing] = [await get(offer.path), await get(`/q/${unknown}`)];
    expect(revoked.status).toBe(404);
    expect(told(revoked, offer.token)).toEqual(told(missing, unknown));
    const [ended, never] = [await revokedCalendar(), `/calendar/${unknown}.ics`];
    const answers = [await get(ended), await get(never)];
    expect(answers.map(({ status }) => status)).toEqual([404, 404]);
    const [one, another] = answers.map(({ text }) => ({
      ...JSON.parse(text),
      ...{ requestId: '', instance: '' },
    }));
    expect(one).toEqual(another);
  });

  it('leaves by no redirect, no referrer and no log', async () => {
    const entered = await get(own.path);
    expect(entered.status).toBe(303);
    expect(entered.headers['location']).toBe(own.page);
    expect(entered.headers['referrer-policy']).toBe('no-referrer');
    const listed = await get(calendar.path);
    expect(listed.status).toBe(200);
    expect(listed.headers['referrer-policy']).toBe('no-referrer');
    const shown = await open(
      { method: 'GET', path: '/your-quote/{number}' },
      numberOf(own),
      cookieOf(own, numberOf(own)),
    );
    expect(shown.headers['referrer-policy']).toBe('same-origin');
    expect(shown.text).not.toContain(own.token);
    expect(logged.length).toBeGreaterThan(10);
    const whole = logged.join('');
    const tokens = Object.values(service.staff).map(({ token }) => token);
    for (const secret of [own.token, other.token, calendar.token, ...tokens]) {
      expect(whole).not.toContain(secret);
    }
  });
});

type Page = (typeof quotePages)[number];
interface Shown {
  status: number;
  headers: Record<string, unknown>;
  text: string;
}

function numberOf({ quote }: Offer): string {
  return String(quote.body.number);
}

function cookieOf({ token }: Offer, number: string): string {
  return `__Host-q-${number}=${token}`;
}

async function open(
  { method, path }: Page,
  number: string,
  cookie: string,
  more: Record<string, string> = {},
): Promise<Shown> {
  const isForm = method === 'POST';
  const fields = path.endsWith('/accept') ? yesForm(other) : noForm(other);
  const answer = await service.app.inject({
    method: isForm ? 'POST' : 'GET',
    url: path.replace('{number}', number),
    headers: {
      ...(cookie !== '' && { cookie }),
      ...more,
      ...(isForm && {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
      }),
    },
    ...(isForm && { payload: String(new URLSearchParams(fields)) }),
  });
  return { status: answer.statusCode, headers: answer.headers, text: answer.body };
}

async function get(url: string): Promise<Shown> {
  const answer = await service.app.inject({ method: 'GET', url, headers: { host: 'localhost' } });
  return { status: answer.statusCode, headers: answer.headers, text: answer.body };
}

/** What there is to learn of an answer, wherever it was asked for. */
function told({ status, headers, text }: Shown, asked: string): unknown {
  const { date: _date, 'x-request-id': _id, 'content-length': _length, ...rest } = headers;
  const [said, page] = [JSON.stringify(rest), text].map((each) => each.replaceAll(asked, 'N'));
  return { status, said, page };
}

async function revokedCalendar(): Promise<string> {
  const feeds = `/v1/technicians/${service.staff.technician.id}/calendar-feeds`;
  const made = expectStatus(await service.as('technician').post(feeds), 201);
  const revoke = `/v1/calendar-feeds/${made.body.id}/revoke`;
  expectStatus(await service.as('technician').post(revoke), 200);
  return new URL(made.body.url).pathname;
}
