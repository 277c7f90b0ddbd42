import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildWorker } from '../../../src/build-worker.ts';
import { createMetrics } from '../../../src/platform/metrics/create-metrics.ts';
import { sendRaw } from '../../harness/send-raw.ts';
import { createTestService, type TestService } from '../../harness/test-service.ts';

let service: TestService;
let worker: FastifyInstance;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
  worker = buildWorker({
    log: pino({ level: 'silent' }),
    registry: createMetrics(),
    whyNotReady: async () => undefined,
  });
});
afterAll(async () => {
  await worker.close();
  await service.close();
});

/** What every answer has to say (OWASP ASVS 5.0, 3.4.1, 3.4.3, 3.4.4, 3.4.5 and 3.4.6). */
function expectStrict(headers: Record<string, unknown>): void {
  const transport = String(headers['strict-transport-security']);
  const [, seconds] = /^max-age=(\d+); includeSubDomains$/.exec(transport) ?? [];
  expect(Number(seconds), transport).toBeGreaterThanOrEqual(365 * 86_400);
  expect(headers['x-content-type-options']).toBe('nosniff');
  expect(headers['referrer-policy']).toMatch(/^(no-referrer|same-origin)$/);
  const policy = String(headers['content-security-policy']).split(/; ?/);
  expect(policy).toContain("frame-ancestors 'none'");
  expect(policy).toContain("base-uri 'none'");
  expect(
    policy.some((each) => /^(default|object)-src 'none'$/.test(each)),
    String(policy),
  ).toBe(true);
}

describe('every answer tells a browser to be strict', () => {
  it.each([
    ['data', 200, '/v1/company'],
    ['what is refused', 401, '/v1/company'],
    ['an unknown address', 404, '/v1/nowhere'],
    ['a wrong method', 405, '/v1/sign-in'],
    ['a page of a link that opens nothing', 404, '/q/nothing'],
    ['the page of a paper that never was', 404, '/paper/nothing'],
    ['a form', 200, '/verify'],
    ['the page of signing in', 200, '/sign-in'],
    ['the way to it of who is not signed in', 303, '/account'],
    ['a link to set a password', 303, '/set-password/nothing'],
    ['a calendar that is none', 404, '/calendar/nothing.ics'],
    ['the page of a problem', 200, '/problems'],
    ['the interface as it is published', 200, '/docs/json'],
    ['the page that browses it', 200, '/docs/'],
    ['a redirect', 302, '/'],
    ['the published keys', 200, '/.well-known/jwks.json'],
    ['how the service is', 200, '/healthz'],
    ['an address that cannot be decoded', 400, '/v1/customers/%zz'],
    ['the same below a link', 404, '/q/%zz'],
    ['a part of an address that is too long', 400, `/v1/visits/${'x'.repeat(200)}`],
  ])('%s', async (_, status, url) => {
    const authorization = `Bearer ${service.staff.owner.token}`;
    const headers = status === 200 ? { authorization } : {};
    const answer = await service.app.inject({ url, headers });
    expect(answer.statusCode).toBe(status);
    expectStrict(answer.headers);
  });

  it('data is kept by nobody on its way', async () => {
    const authorization = `Bearer ${service.staff.owner.token}`;
    const answer = await service.app.inject({ url: '/v1/company', headers: { authorization } });
    expect(answer.headers['cache-control']).toBe('no-store');
  });

  it('what is no HTTP at all', async () => {
    const [head = ''] = (await sendRaw(service.app, 'HELLO\r\n\r\n')).split('\r\n\r\n');
    const [status, ...lines] = head.split('\r\n');
    expect(status).toBe('HTTP/1.1 400 Bad Request');
    const pairs = lines.map((line) => line.split(/: (.*)/s));
    expectStrict(Object.fromEntries(pairs.map(([name = '', value]) => [name, value])));
  });

  it.each(['/healthz', '/nowhere', '/%zz'])(
    'also of a process that only works: %s',
    async (url) => {
      expectStrict((await worker.inject({ url })).headers);
    },
  );
});

describe('methods that nothing here answers', () => {
  it.each(['TRACE', 'OPTIONS', 'PUT'] as const)(
    '%s is refused, and repeats nothing',
    async (method) => {
      const headers = { authorization: 'Bearer not-to-be-repeated' };
      const answer = await service.app.inject({
        method: method as 'OPTIONS',
        url: '/v1/company',
        headers,
      });
      expect(answer.statusCode).toBe(405);
      expect(answer.body).not.toContain('not-to-be-repeated');
      expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    },
  );
});
