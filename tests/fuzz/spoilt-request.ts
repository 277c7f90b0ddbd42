import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import type { WireRequest } from './request-of.ts';

/** A request that was good, and is hardly one any more: broken JSON, other types, twice the same. */
export function spoiltRequest(good: WireRequest): fc.Arbitrary<WireRequest> {
  const spoilt = [...addresses(good), ...otherHeaders(good), ...brokenBodies(good)];
  return fc.constantFrom(...spoilt);
}

function addresses(good: WireRequest): WireRequest[] {
  const at = (path: string) => ({ ...good, path, isAstray: true });
  return [
    at(`${good.path}/`),
    at(`/${good.path}`),
    at(`${good.path}%00`),
    at(`${good.path}%`),
    at(`${good.path}%ff`),
    at(`${good.path}/../${'x'.repeat(200)}`),
    at(good.path.toUpperCase()),
    at(good.path.replace('/v1/', '/v1/%2e%2e/v1/')),
    ...['PUT', 'DELETE', 'HEAD', 'OPTIONS', good.method === 'GET' ? 'POST' : 'GET'].map(
      (method) => ({ ...good, method, isAstray: true }),
    ),
  ];
}

function otherHeaders(good: WireRequest): WireRequest[] {
  const withHeaders = (more: WireRequest['headers']) => ({
    ...good,
    headers: { ...good.headers, ...more },
  });
  const { 'idempotency-key': _, ...noKey } = good.headers;
  const { 'if-match': __, ...noMatch } = good.headers;
  return [
    { ...good, headers: noKey },
    { ...good, headers: noMatch },
    withHeaders({ accept: 'application/xml' }),
    withHeaders({ 'if-none-match': '*' }),
    withHeaders({ 'if-none-match': '"' }),
    withHeaders({ 'if-match': ['"v1"', '"v2"'] }),
    withHeaders({ 'idempotency-key': ['one', 'two'] }),
    withHeaders({ 'content-type': ['application/json', 'text/plain'] }),
    withHeaders({ 'x-forwarded-for': 'not an address', 'x-forwarded-host': 'evil.example.com' }),
    withHeaders({ 'last-event-id': '-1e9' }),
    withHeaders({ 'sec-fetch-site': 'cross-site', origin: 'https://evil.example.com' }),
    withHeaders({ cookie: `a=${'b'.repeat(2_000)}; =; ;;` }),
    withHeaders({ 'x-http-method-override': 'DELETE' }),
  ];
}

const TEN_MEGABYTES = Buffer.from(`{"x":"${'x'.repeat(10_000_000)}"}`);

/** Not sent beside a GET: there a body means nothing. */
function brokenBodies(good: WireRequest): WireRequest[] {
  if (good.body === undefined) return [];
  const typed = (mediaType: string, body: Uint8Array | undefined = good.body) => ({
    ...good,
    headers: { ...good.headers, 'content-type': mediaType },
    body,
  });
  const text = (body: string) => typed('application/json', Buffer.from(body));
  const { 'content-type': _, ...untyped } = good.headers;
  const half = good.body.slice(0, Math.floor(good.body.length / 2));
  return [
    typed('application/json', half),
    text(''),
    text('{'),
    text('null'),
    text('[]'),
    text('"text"'),
    text('NaN'),
    text('1e400'),
    text('{"a":1,"a":2}'),
    text('{"__proto__":{"isAdmin":true}}'),
    text('{"constructor":{"prototype":{"isAdmin":true}}}'),
    text(`${'['.repeat(20_000)}${']'.repeat(20_000)}`),
    typed('application/json', TEN_MEGABYTES),
    typed('application/json', Buffer.from([0xff, 0xfe, 0x7b, 0x00, 0x7d, 0x00])),
    typed('application/json', Buffer.from([0x7b, 0x22, 0xc3, 0x28, 0x22, 0x3a, 0x31, 0x7d])),
    typed('application/json; charset=utf-16'),
    typed('application/json;;; charset'),
    typed('APPLICATION/JSON'),
    typed('application/vnd.api+json'),
    typed('text/plain'),
    typed('application/x-www-form-urlencoded', Buffer.from('a=1&b=2')),
    typed('multipart/form-data; boundary=x', Buffer.from('--x\r\n\r\n--x--')),
    typed('image/svg+xml', Buffer.from('<svg/>')),
    typed('\x01'),
    { ...good, headers: untyped },
    {
      ...good,
      headers: { ...good.headers, 'content-encoding': 'gzip' },
      body: gzipSync(good.body),
    },
  ];
}
