import type { FastifyInstance } from 'fastify';
import { afterEach, describe, expect, it } from 'vitest';
import { createServer } from '../../../src/platform/http/create-server.ts';
import { healthRoutes } from '../../../src/platform/http/health.ts';
import { createLog } from '../../../src/platform/log.ts';
import { sendRaw } from '../../harness/send-raw.ts';

let app: FastifyInstance | undefined;
const lines: string[] = [];
afterEach(() => app?.close());

function open(trustProxy?: string): FastifyInstance {
  lines.length = 0;
  const log = createLog('info', { write: (line) => void lines.push(line) });
  app = createServer({ log, typeBase: '', ...(trustProxy !== undefined && { trustProxy }) });
  healthRoutes(app, async () => undefined);
  // What pages and links are made with.
  app.get('/seen', async ({ ip, protocol, host }) => JSON.stringify({ ip, protocol, host }));
  return app;
}

describe('what a proxy says of whoever asked (OWASP ASVS 5.0, 4.1.3 and 15.3.4)', () => {
  const forwarded = {
    host: 'jobs.example.com',
    'x-forwarded-for': '198.51.100.4',
    'x-forwarded-proto': 'https',
    'x-forwarded-host': 'evil.example.com',
    'x-real-ip': '198.51.100.4',
  };
  const ask = async (remoteAddress: string, trustProxy?: string) => {
    const answer = await open(trustProxy).inject({
      url: '/seen',
      remoteAddress,
      headers: forwarded,
    });
    const [{ req } = { req: undefined }] = lines.map((line) => JSON.parse(line));
    return { ...JSON.parse(answer.body), logged: req?.remoteAddress };
  };
  const asItCame = (ip: string) => {
    return { ip, protocol: 'http', host: 'jobs.example.com', logged: ip };
  };

  it('is not believed where no proxy is trusted', async () => {
    expect(await ask('203.0.113.9')).toEqual(asItCame('203.0.113.9'));
    expect(await ask('127.0.0.1')).toEqual(asItCame('127.0.0.1'));
  });

  it('is not believed of anybody but the proxy that is trusted', async () => {
    expect(await ask('203.0.113.9', '10.0.0.0/8')).toEqual(asItCame('203.0.113.9'));
  });

  it('is believed of that one', async () => {
    expect(await ask('10.1.2.3', '10.0.0.0/8')).toMatchObject({
      ip: '198.51.100.4',
      protocol: 'https',
      logged: '198.51.100.4',
    });
  });
});

describe('a request whose end could be read in two ways (RFC 9112, section 6.3)', () => {
  const hidden = 'GET /healthz HTTP/1.1\r\nHost: a\r\n\r\n';
  it.each([
    ['a length beside chunks', ['Content-Length: 5', 'Transfer-Encoding: chunked']],
    ['two lengths that differ', ['Content-Length: 5', `Content-Length: ${5 + hidden.length}`]],
    ['a length that is no number', ['Content-Length: +5']],
    ['chunks that are not the last coding', ['Transfer-Encoding: chunked, identity']],
  ])(
    'is refused with the connection, and nothing behind it is answered: %s',
    async (_, headers) => {
      const server = open();
      await server.listen({ port: 0, host: '127.0.0.1' });
      const head = [
        'POST /healthz HTTP/1.1',
        'Host: a',
        'Content-Type: application/json',
        ...headers,
      ];
      const answer = await sendRaw(server, `${head.join('\r\n')}\r\n\r\n0\r\n\r\n${hidden}`);
      expect(answer.match(/HTTP\/1\.1 \d+/g)).toEqual(['HTTP/1.1 400']);
    },
  );
});
