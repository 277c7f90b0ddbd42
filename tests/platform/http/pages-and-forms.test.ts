import fc from 'fast-check';
import Fastify, { type FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { checkForm, takeForms } from '../../../src/platform/http/form-body.ts';
import { text } from '../../../src/platform/http/formats.ts';
import { readCookie } from '../../../src/platform/http/read-cookie.ts';
import { refuseCrossSite } from '../../../src/platform/http/refuse-cross-site.ts';
import { withoutToken } from '../../../src/platform/without-token.ts';

describe('the body of a form', () => {
  let app: FastifyInstance;
  beforeAll(async () => {
    app = Fastify();
    takeForms(app, { bytesMax: 100 });
    app.post('/', async (request) => request.body);
    await app.ready();
  });
  afterAll(() => app.close());

  const send = (body: string, type = 'application/x-www-form-urlencoded') =>
    supertest(app.server).post('/').set('content-type', type).send(body);

  it('is read as browsers write it', async () => {
    const answer = await send('name=Zo%C3%AB+O%27Neil&agree=yes&empty=');
    expect(answer.body).toEqual({ name: "Zoë O'Neil", agree: 'yes', empty: '' });
  });

  it('gives no way into the objects of the program', async () => {
    const answer = await send('__proto__=x&constructor=y');
    expect(JSON.parse(answer.text)).toEqual(JSON.parse('{"__proto__":"x","constructor":"y"}'));
    expect(Object.hasOwn(Object.prototype, 'x')).toBe(false);
  });

  it('with one field twice is no form of ours', async () => {
    const refused = await send('name=a&name=b');
    expect(refused.status).toBe(400);
    expect(refused.body.message).toBe('A field of the form comes twice.');
  });

  it('is refused when it is too long, or is no form', async () => {
    expect((await send(`name=${'a'.repeat(101)}`)).status).toBe(413);
    expect((await send('{"name":"a"}', 'application/json')).status).toBe(415);
    expect((await send('name=a', 'text/plain')).status).toBe(415);
  });
});

describe('what was typed', () => {
  const schema = z.strictObject({ name: text(5), reason: text(5).optional() });

  it('is read with blank fields as not given', () => {
    expect(checkForm(schema, { name: ' Ann ', reason: '  ' })).toEqual({
      outcome: 'read',
      values: { name: 'Ann' },
    });
  });

  it.each([
    ['nothing', undefined, ['name']],
    ['a blank', { name: ' ' }, ['name']],
    ['too long a text', { name: 'Annabel', reason: 'because' }, ['name', 'reason']],
    ['a field that the page does not have', { name: 'Ann', admin: 'yes' }, ['admin']],
    ['what hides text', { name: 'A\u202en' }, ['name']],
  ])('is told field by field when it cannot be right: %s', (_, typed, fields) => {
    expect(checkForm(schema, typed)).toEqual({ outcome: 'mistaken', fields: new Set(fields) });
  });
});

describe('a form', () => {
  const host = 'quotes.example.com';
  const from = (headers: Record<string, string>) => () => refuseCrossSite({ headers, host });

  it.each([
    ['our own page says so itself', { 'sec-fetch-site': 'same-origin' }],
    ['the person did it without any page', { 'sec-fetch-site': 'none' }],
    ['an older browser names our origin', { origin: `https://${host}` }],
  ])('is taken when %s', (_, headers) => {
    expect(from(headers)).not.toThrow();
  });

  it.each([
    ['another site', { 'sec-fetch-site': 'cross-site' }],
    ['a neighbor below the same domain', { 'sec-fetch-site': 'same-site' }],
    [
      'another site that names our origin',
      { 'sec-fetch-site': 'cross-site', origin: `https://${host}` },
    ],
    ['another origin', { origin: 'https://evil.example.com' }],
    ['an origin that hides', { origin: 'null' }],
    ['another port', { origin: `https://${host}:8443` }],
    ['nowhere', {}],
  ])('is refused from %s', (_, headers) => {
    expect(from(headers)).toThrow('not sent from our own page');
  });
});

describe('a cookie', () => {
  it.each([
    ['a=1; __Host-q=secret; b=2', 'secret'],
    ['__Host-q=first; __Host-q=second', 'first'],
    ['__Host-q=with=signs', 'with=signs'],
    ['x__Host-q=no', undefined],
    ['__host-q=no', undefined],
    ['__Host-q', undefined],
    ['', undefined],
    [undefined, undefined],
  ])('is read by its exact name from %j', (header, value) => {
    expect(readCookie(header, '__Host-q')).toBe(value);
  });
});

describe('an address that is kept', () => {
  const token = 'Ab0-_'.repeat(9).slice(0, 43);

  it.each([
    ['/q/secret', '/q/[left out]'],
    ['/q/secret?lang=es', '/q/[left out]'],
    ['/Q/secret', '/q/[left out]'],
    ['/%71/secret', '/q/[left out]'],
    ['/q/secret/more', '/q/[left out]'],
    ['/q/a%2Fsecret', '/q/[left out]'],
    ['/q%2Fsecret', '/q/[left out]'],
    ['//q/secret', '//q/[left out]'],
    ['/v1//q/secret', '/v1//q/[left out]'],
    ['/your-quote/q/secret', '/your-quote/q/[left out]'],
    ['http://quotes.example.com/q/secret', 'http://quotes.example.com/q/[left out]'],
    ['/calendar/secret.ics', '/calendar/[left out]'],
    ['/%63ALENDAR%2Fsecret.ics?x=1', '/calendar/[left out]'],
    ['/v1/x/calendar/secret', '/v1/x/calendar/[left out]'],
    [`/r/${token}`, '/r/[left out]'],
    [`/${token}.html?from=${token}`, '/[left out].html?from=[left out]'],
    [`/q${token}`, '/[left out]'],
    [`/v1/${token}x`, '/v1/[left out]'],
    [`/q%E2%80%8B/${token}1`, '/q%E2%80%8B/[left out]'],
    ['/your-quote%252Fq%252fsecret', '/your-quote/q/[left out]'],
    [`/r%252F${token.replace('b', '%2562')}`, '/r%252F[left out]'],
    [`/x%2F${token.replace('A', '%41').replace('-', '%2d')}`, '/x%2F[left out]'],
  ])('has no token in it: %s', (address, kept) => {
    expect(withoutToken(address)).toBe(kept);
  });

  it('has no token in it wherever it is put and however its letters are written', () => {
    const token = fc.tuple(
      fc.string({ unit: fc.constantFrom(...LETTERS), minLength: 43, maxLength: 43 }),
      fc.array(fc.nat({ max: 2 }), { minLength: 43, maxLength: 43 }),
    );
    const before = fc.constantFrom(
      '/',
      '/q/',
      '//',
      '/%2F',
      '/a.',
      '/?x=',
      'http://h/',
      '/%zz/',
      '/%252f',
    );
    fc.assert(
      fc.property(token, before, ([letters, coded], start) => {
        const text = [...letters].map((letter, at) => written[coded[at] ?? 0]?.(letter));
        expect(withoutToken(`${start}${text.join('')}`)).toMatch(/\[left out\]$/);
      }),
    );
  });

  it.each([
    '/v1/quotes/0198-1?search=x',
    '/your-quote',
    '/',
    '/%zz/x',
    '/qq/x',
    '/v1/calendar-feeds/0198-1/revoke',
    '/calendars/x',
    `/v1/documents/${'0a'.repeat(32)}`,
    `/v1/${token.slice(1)}`,
  ])('is otherwise as it was: %s', (address) => {
    expect(withoutToken(address)).toBe(address);
  });
});

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

/** A letter of an address: as it is, behind a percent sign, and behind one that is so itself. */
const written = [
  (letter: string) => letter,
  (letter: string) => `%${letter.charCodeAt(0).toString(16)}`,
  (letter: string) => `%25${letter.charCodeAt(0).toString(16)}`,
];
