import { createServer, type IncomingHttpHeaders, type Server } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import {
  type AddressInfo,
  createServer as createLineServer,
  type Server as LineServer,
} from 'node:net';
import { afterEach, describe, expect, test } from 'vitest';
import { sendText } from '../../src/delivery/send-text.ts';
import { inventedCertificate } from './invented-certificate.ts';
import { until } from './until.ts';

let server: Server | undefined;
afterEach(() => {
  server?.closeAllConnections();
  server?.close();
});

const text = { id: 'delivery-1', to: '555-0111', text: 'Look and answer: https://x.example/q/1' };

/** A gateway that answers with one status, or not at all, and what it was told. */
async function gateway(status: number | 'nothing', words = '', headers = {}) {
  const told: { headers: IncomingHttpHeaders; body: string }[] = [];
  const made = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk: Buffer) => {
      body += chunk.toString();
    });
    request.on('end', () => {
      told.push({ headers: request.headers, body });
      if (status !== 'nothing') response.writeHead(status, headers).end(words);
    });
  });
  server = made;
  await new Promise<void>((resolve) => made.listen(0, '127.0.0.1', resolve));
  return { url: `http://127.0.0.1:${(made.address() as AddressInfo).port}/texts`, told };
}

const never = new AbortController().signal;

test('the gateway is told whom, what, and under which key a repetition is the same text', async () => {
  const { url, told } = await gateway(202);
  expect(await sendText({ url, token: 'secret' }, text, never)).toEqual({ outcome: 'sent' });
  expect(JSON.parse(told[0]?.body ?? '')).toEqual(text);
  expect(told[0]?.headers).toMatchObject({
    'idempotency-key': 'delivery-1',
    authorization: 'Bearer secret',
  });
});

describe('its answer decides', () => {
  test.each([
    [400, 'refused'],
    [404, 'refused'],
    [302, 'refused'],
    [408, 'try_again'],
    [429, 'try_again'],
    [503, 'try_again'],
    [500, 'ask_again'],
    [504, 'ask_again'],
  ])('%i: %s', async (status, outcome) => {
    const { url, told } = await gateway(status, '', { location: '/elsewhere' });
    const result = await sendText({ url }, text, never);
    expect(result).toMatchObject({ outcome, answerCode: status });
    expect(told).toHaveLength(1);
  });

  test('none in time: asked again later, and it may have the text', async () => {
    const { url } = await gateway('nothing');
    const result = await sendText({ url, timeoutMs: 100 }, text, never);
    expect(result.outcome).toBe('ask_again');
  });

  test('nobody there: tried again later, and nobody has the text', async () => {
    const { url } = await gateway(200);
    server?.close();
    expect(await sendText({ url }, text, never)).toEqual({
      outcome: 'try_again',
      reason: 'The text gateway could not be reached: ECONNREFUSED',
    });
  });

  test('the attempt had ended before: nobody is asked', async () => {
    const { url, told } = await gateway(200);
    expect(await sendText({ url }, text, AbortSignal.abort())).toMatchObject({
      outcome: 'try_again',
    });
    expect(told).toEqual([]);
  });

  test('it breaks off once it was asked: asked again, and it may have the text', async () => {
    const { url, told } = await gateway('nothing');
    const sending = sendText({ url }, text, never);
    await until(
      async () => told.length,
      (asked) => asked === 1,
    );
    server?.closeAllConnections();
    expect(await sending).toMatchObject({ outcome: 'ask_again' });
  });

  test('its words are kept, without the number they are about', async () => {
    const { url } = await gateway(422, 'Not a mobile number: 555-0111');
    expect(await sendText({ url }, text, never)).toHaveProperty(
      'reason',
      'The text gateway refused it: 422 Not a mobile number: [the address]',
    );
  });
});

describe('no line under encryption: tried again later, and nobody has the text', () => {
  let asked = 0;
  const take = () => {
    asked += 1;
  };
  const lines: Record<string, [string, () => Server | LineServer]> = {
    'a certificate that nobody vouches for': [
      'DEPTH_ZERO_SELF_SIGNED_CERT',
      () => createSecureServer(inventedCertificate(), take),
    ],
    'no encryption there': ['ERR_SSL_', () => createServer(take)],
    'a line that breaks in the handshake': [
      'ECONNRESET',
      () => createLineServer((socket) => socket.once('data', () => socket.destroy())),
    ],
  };
  test.each(Object.entries(lines))('%s', async (_, [code, make]) => {
    const made = make();
    await new Promise<void>((resolve) => made.listen(0, '127.0.0.1', resolve));
    const url = `https://127.0.0.1:${(made.address() as AddressInfo).port}/texts`;
    const result = await sendText({ url }, text, never);
    made.close();
    expect(result).toMatchObject({
      outcome: 'try_again',
      reason: expect.stringContaining(`could not be reached: ${code}`),
    });
    expect(asked).toBe(0);
  });
});
