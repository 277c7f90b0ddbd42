import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import { pino } from 'pino';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { asProblem } from '../../../src/platform/http/answer-errors.ts';
import { problemSchema } from '../../../src/platform/http/problem.ts';
import { problemCatalog, problemSlugs } from '../../../src/platform/http/problem-catalog.ts';
import { read } from '../../../src/platform/http/route.ts';
import { createBareApp } from '../../harness/bare-app.ts';
import { sendRaw } from '../../harness/send-raw.ts';
import { createTestService, expectProblem, type TestService } from '../../harness/test-service.ts';

const SECRET = 'the vault is behind the water heater';
let service: TestService;
let bare: FastifyInstance;
const lines: string[] = [];
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
  const log = pino({ level: 'info' }, { write: (line: string) => void lines.push(line) });
  bare = await createBareApp(service.db, [breaking], { log });
});
afterAll(async () => {
  await bare.close();
  await service.close();
});

const breaking = read({
  operationId: 'break',
  summary: 'Breaks',
  tag: 'test',
  path: '/v1/break',
  access: ['owner'],
  response: z.strictObject({}),
  handle: async () => {
    throw new Error(SECRET, { cause: new pg.DatabaseError(SECRET, 1, 'error') });
  },
});

const raw = () => supertest(service.app.server);
const token = () => `Bearer ${service.staff.owner.token}`;

describe('every refusal is a problem document (RFC 9457)', () => {
  it.each([
    ['an unknown address', 'GET', '/v1/nowhere', 'not-found', 404],
    ['an unknown address below a known one', 'GET', '/v1/company/secrets', 'not-found', 404],
    ['a page that is not there', 'GET', '/docs/nowhere.html', 'not-found', 404],
    ['an unknown kind of problem', 'GET', '/problems/nonsense', 'not-found', 404],
    ['a wrong method', 'DELETE', '/v1/company', 'method-not-allowed', 405],
    ['a wrong method on one thing', 'PUT', '/v1/visits/1', 'method-not-allowed', 405],
    ['a wrong method on a page', 'POST', '/healthz', 'method-not-allowed', 405],
    ['OPTIONS', 'OPTIONS', '/v1/tickets', 'method-not-allowed', 405],
    ['an address that cannot be decoded', 'GET', '/v1/customers/%zz', 'malformed-request', 400],
    [
      'a very long part of an address',
      'GET',
      `/v1/visits/${'x.'.repeat(1_000)}`,
      'malformed-request',
      400,
    ],
    ['no token', 'GET', '/v1/company', 'unauthenticated', 401],
  ])('%s', async (_, method, path, slug, status) => {
    const answer = await service.app.inject({ method: method as 'GET', url: path });
    expect(answer.statusCode).toBe(status);
    expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    const problem = problemSchema.parse(answer.json());
    expect(problem).toMatchObject({
      code: slug,
      status,
      type: `/problems/${slug}`,
      title: problemCatalog[slug as keyof typeof problemCatalog].title,
      instance: path,
      requestId: answer.headers['x-request-id'],
    });
  });

  it('a wrong method is told the right ones in Allow (RFC 9110, section 15.5.6)', async () => {
    const answer = await raw().delete('/v1/customers/1');
    expect(answer.headers['allow']).toBe('GET, HEAD, PATCH');
    expect((await raw().put('/v1/tickets?x=1')).headers['allow']).toBe('GET, HEAD, POST');
  });

  it('HEAD answers as GET does, without the body', async () => {
    const head = await raw().head('/v1/company').set('authorization', token());
    const get = await raw().get('/v1/company').set('authorization', token());
    expect(head.status).toBe(200);
    expect(head.text).toBeUndefined();
    expect(head.headers['content-type']).toBe(get.headers['content-type']);
    expect(head.headers['content-length']).toBe(get.headers['content-length']);
    expect((await raw().head('/v1/nowhere')).status).toBe(404);
    expect((await raw().head('/v1/company')).status).toBe(401);
  });

  it.each([
    ['what is not HTTP', 'HELLO\r\n\r\n'],
    ['a method that does not exist', 'BREW /v1/company HTTP/1.1\r\nHost: example.com\r\n\r\n'],
    ['headers that are too large', `GET / HTTP/1.1\r\nHost: a\r\nX: ${'x'.repeat(70_000)}\r\n\r\n`],
  ])('%s', async (_, text) => {
    const [head = '', body = ''] = (await sendRaw(service.app, text)).split('\r\n\r\n');
    expect(head).toMatch(/^HTTP\/1\.1 400 /);
    expect(head).toContain('application/problem+json');
    expect(problemSchema.parse(JSON.parse(body)).code).toBe('malformed-request');
  });
});

describe('a body that cannot be taken', () => {
  const post = (type: string | undefined, body: string) => {
    const request = raw()
      .post('/v1/customers')
      .set('authorization', token())
      .set('idempotency-key', 'k');
    if (type !== undefined) request.set('content-type', type);
    // Text goes out as it is; the client must not make JSON of it.
    return request.serialize((text: unknown) => String(text)).send(body);
  };
  const valid = '{"name":"Winifred Ashgrove","phone":"555-0111"}';
  const wrong = '{"name":"Winifred Ashgrove","phone":"555-0111","isAdmin":true}';

  it.each([
    ['half a document', '{"name":'],
    ['no document', ''],
    ['two documents', `${valid}${valid}`],
    ['a comment', '{/* */}'],
    ['single quotes', "{'name':1}"],
    ['a prototype', '{"__proto__":{"isAdmin":true},"name":"W","phone":"555-0111"}'],
    ['a constructor', '{"constructor":{"prototype":{"x":1}},"name":"W","phone":"555-0111"}'],
  ])('is refused with 400 as malformed: %s', async (_, body) => {
    expectProblem(await post('application/json', body), 'malformed-request');
  });

  it.each(['null', '[]', '"text"', '1', 'true'])(
    'is refused with 400 as wrong: the document %s',
    async (body) => {
      const refused = expectProblem(await post('application/json', body), 'validation-failed');
      expect(refused.body.errors).toEqual([expect.objectContaining({ in: 'body', pointer: '' })]);
    },
  );

  it('is refused with 413 above 256 KiB, and read up to it', async () => {
    const sized = (bytes: number) => `{"name":"${'x'.repeat(bytes - 11)}"}`;
    expectProblem(await post('application/json', sized(256 * 1024 + 1)), 'payload-too-large');
    expectProblem(await post('application/json', sized(256 * 1024)), 'validation-failed');
  });

  // Odd content types were how validation was skipped in framework releases of 2025 and 2026: the
  // body was parsed as JSON under a type for which no schema was looked up.
  const odd = [
    'application/json ; charset=utf-8',
    'application/json\t; charset=utf-8',
    'application/json;',
    'application/json,text/html',
    'Application/JSON',
    'APPLICATION/JSON; charset=UTF-8',
    'application/json; charset=utf-16',
    'application/json;foo=bar;application/xml',
    'application/vnd.api+json',
    'application/problem+json',
    'application/jsonp',
    'application/json/extra',
    'application /json',
    'text/json',
    'text/plain',
    'text/html',
    'multipart/form-data; boundary=x',
    'application/x-www-form-urlencoded',
    'application/octet-stream',
    'json',
    '*/*',
    ';',
  ];
  it.each(odd)('is never taken unchecked under the content type %j', async (type) => {
    const answer = await post(type, wrong);
    expect([400, 415]).toContain(answer.status);
    const problem = problemSchema.parse(answer.body);
    expect(['validation-failed', 'unsupported-media-type']).toContain(problem.code);
    const added = await service.owner.query('SELECT count(*)::int AS rows FROM customer');
    expect(added.rows[0].rows).toBe(0);
  });

  it('without a content type is refused with 415', async () => {
    const answer = await service.app.inject({
      method: 'POST',
      url: '/v1/customers',
      headers: { authorization: token(), 'idempotency-key': 'k' },
      payload: Buffer.from(valid),
    });
    expect(answer.statusCode).toBe(415);
    expect(answer.json().code).toBe('unsupported-media-type');
  });

  it('names every wrong field by its JSON Pointer (RFC 6901)', async () => {
    const book = {
      effectiveFrom: 'yesterday',
      'a/b~c': 1,
      tasks: [{ code: 'replace_contactor', minutes: 1.5 }],
    };
    const refused = await service.as('owner').post('/v1/price-books', book);
    expectProblem(refused, 'validation-failed');
    const pointers = refused.body.errors.map(({ pointer }: { pointer: string }) => pointer);
    expect(pointers).toEqual(
      expect.arrayContaining([
        '/effectiveFrom',
        '/tasks/0/minutes',
        '/tasks/0/name',
        '/rates',
        '/a~1b~0c',
      ]),
    );
    for (const error of refused.body.errors) expect(error).toMatchObject({ in: 'body' });
  });

  it.each([
    ['/v1/customers/not-an-id', 'path', '/customerId'],
    ['/v1/customers?limit=x', 'query', '/limit'],
    ['/v1/customers?unknown=1', 'query', '/unknown'],
  ])('names the place of a mistake in the address: %s', async (path, where, pointer) => {
    const refused = expectProblem(await service.as('owner').get(path), 'validation-failed');
    expect(refused.body.errors).toEqual([expect.objectContaining({ in: where, pointer })]);
  });
});

describe('a mistake of ours', () => {
  it('tells the client its request id and nothing else; the log has the rest', async () => {
    lines.length = 0;
    const answer = await supertest(bare.server).get('/v1/break').set('authorization', token());
    expectProblem(answer, 'internal-error');
    expect(answer.status).toBe(500);
    expect(answer.text).not.toContain(SECRET);
    expect(answer.text).not.toMatch(/\.ts|node_modules|stack/);
    const logged = lines.filter((line) => line.includes(answer.body.requestId));
    expect(logged.join('')).toContain(SECRET);
  });

  it.each([
    ['text', 'text'],
    ['undefined', undefined],
    ['null', null],
    ['a number', 42],
    ['an object', { statusCode: 418 }],
  ])('is answered whatever was thrown: %s', (_, thrown) => {
    expect(asProblem(thrown).slug).toMatch(/^(internal-error|malformed-request)$/);
  });
});

describe('what may pass', () => {
  it.each([
    ['a refused connection', { code: 'ECONNREFUSED' }],
    ['a connection lost on the way', new Error('Connection terminated unexpectedly')],
    ['a commit on a lost connection', { cause: { kind: 'ConnectionClosed' }, message: '' }],
    ['no connection free in time', new Error('timeout exceeded when trying to connect')],
    ['no transaction free in time', { code: 'P2028', message: '' }],
    ['a server that shuts down', { code: '57P01', message: '' }],
    ['too many connections', { code: '53300', message: '' }],
    ['a lock that did not come free', { cause: { originalCode: '55P03' }, message: '' }],
    ['a statement that took too long', { code: '57014', message: '' }],
    ['a conflict lost every time', { code: 'P2034', message: '' }],
    ['a deadlock lost at commit', { cause: { originalCode: '40P01' }, message: '' }],
    ['the framework at its limit', { statusCode: 503, message: '' }],
  ])('is 503, so that clients try again: %s', (_, error) => {
    expect(asProblem(error).slug).toBe('unavailable');
  });

  it.each([
    ['a constraint', { code: '23505', message: '' }],
    ['a wrong statement', { code: '42601', message: '' }],
    ['a bug', new TypeError('x is not a function')],
  ])('does not include %s', (_, error) => {
    expect(asProblem(error).slug).toBe('internal-error');
  });

  it('includes every statement on a connection that was cut', async () => {
    const client = await service.owner.connect();
    client.on('error', () => undefined);
    const { rows } = await client.query('SELECT pg_backend_pid() AS pid');
    await service.owner.query('SELECT pg_terminate_backend($1)', [rows[0].pid]);
    const slugs: string[] = [];
    for (let nth = 0; nth < 3; nth += 1) {
      const failed = await client.query('SELECT 1').catch((error: unknown) => error);
      slugs.push(asProblem(failed).slug);
    }
    client.release(true);
    expect(slugs).toEqual(['unavailable', 'unavailable', 'unavailable']);
  });

  it('includes a statement that nobody answered', async () => {
    const { connectionString } = service.owner.options;
    const client = new pg.Client({
      ...(connectionString && { connectionString }),
      query_timeout: 1,
    });
    await client.connect();
    const failed = await client.query('SELECT pg_sleep(1)').catch((error: unknown) => error);
    await client.end();
    expect(asProblem(failed).slug).toBe('unavailable');
  });

  it('includes the database being away: 503 with Retry-After, and readiness says so', async () => {
    const away = new pg.Pool({ host: '127.0.0.1', port: 1, connectionTimeoutMillis: 500 });
    const app = await createBareApp({ ...service.db, pool: away }, [
      read({ ...whoAmI, access: ['owner'] }),
    ]);
    const answer = await supertest(app.server).get('/v1/me').set('authorization', token());
    await app.close();
    await away.end();
    expectProblem(answer, 'unavailable');
    expect(answer.status).toBe(503);
    expect(answer.headers['retry-after']).toBe('2');
    expect(answer.text).not.toContain('ECONNREFUSED');
  });
});

const whoAmI = {
  operationId: 'whoAmI',
  summary: 'Who is asking',
  tag: 'test',
  path: '/v1/me',
  response: z.strictObject({}),
  handle: async () => ({ body: {} }),
} as const;

describe('the page behind a problem', () => {
  it.each(problemSlugs)('%s is there, and says what to do', async (slug) => {
    const page = await raw().get(`/problems/${slug}`);
    expect(page.status).toBe(200);
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(page.text).toContain(problemCatalog[slug].title);
    expect(page.text).toContain(`status ${problemCatalog[slug].status}`);
    expect(page.text).toContain('What to do');
  });

  it('is listed with all others', async () => {
    const { text } = await raw().get('/problems');
    const linked = [...text.matchAll(/href="\/problems\/([a-z-]+)"/g)].map(([, slug]) => slug);
    expect(linked).toEqual(problemSlugs);
  });
});
