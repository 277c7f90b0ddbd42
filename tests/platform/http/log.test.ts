import { randomBytes, randomUUID } from 'node:crypto';
import { type AddressInfo, connect } from 'node:net';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createLog } from '../../../src/platform/log.ts';
import { bookJob } from '../../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../../harness/test-service.ts';
import { offerAtLink } from '../../harness/visitor.ts';

const lines: string[] = [];
let service: TestService;
beforeAll(async () => {
  const log = createLog('trace', { write: (line) => void lines.push(line) });
  service = await createTestService({ log });
});
afterAll(() => service.close());

describe('the log', () => {
  it('never holds a token, whatever was done with it', async () => {
    const unknown = randomBytes(32).toString('base64url');
    const ask = (authorization: string) =>
      supertest(service.app.server).get('/v1/company').set('authorization', authorization);
    await bookJob(service);
    await service.as('technician').get('/v1/journal');
    await service.as('second_technician').get(`/v1/visits/${randomUUID()}`);
    await ask(`Bearer ${unknown}`);
    await ask(unknown);
    await ask(`Bearer ${unknown} ${unknown}`);
    const tokens = [...Object.values(service.staff).map(({ token }) => token), unknown];
    const log = lines.join('');
    expect(lines.length).toBeGreaterThan(20);
    for (const token of tokens) expect(log).not.toContain(token);
  });

  it.each([
    ['as a browser sends it', (token: string) => `/q/${token}`],
    ['in absolute form', (token: string) => `http://127.0.0.1/q/${token}`],
    ['below a double slash', (token: string) => `//q/${token}`],
    ['below the API', (token: string) => `/v1//q/${token}`],
    ['glued to the page', (token: string) => `/your-quote/q/${token}`],
    ['at an address that is none', (token: string) => `/%zz/${token}`],
  ])('never holds the token of a customer’s link, nor does the answer: %s', async (_, targetOf) => {
    const { token } = await offerAtLink(service);
    const from = lines.length;
    const answer = await sendRaw(service, targetOf(token));
    expect(answer).toMatch(/^HTTP\/1\.1 (303|400|404) /);
    const [, body = ''] = answer.split('\r\n\r\n');
    expect(body).not.toContain(token);
    const log = lines.slice(from).join('');
    expect(log).toContain('incoming request');
    expect(log).not.toContain(token);
  });

  it('leaves out what is logged by mistake, and what people search for', () => {
    const from = lines.length;
    // Without the server, whose own summary of a request would leave out the headers anyway.
    createLog('info', { write: (line) => void lines.push(line) }).info({
      req: {
        method: 'GET',
        url: '/v1/customers?search=let-me-in',
        ip: '192.0.2.1',
        headers: { authorization: 'Bearer let-me-in', cookie: 'let-me-in' },
      },
      login: { password: 'let-me-in', token: 'let-me-in' },
    });
    const [line = ''] = lines.slice(from);
    expect(JSON.parse(line)).toMatchObject({
      req: { method: 'GET', path: '/v1/customers', remoteAddress: '192.0.2.1' },
      login: { password: '[left out]', token: '[left out]' },
    });
    expect(line).not.toContain('let-me-in');
  });

  it('finds all lines of a request by the id that its answer carries', async () => {
    const answer = expectStatus(await service.as('owner').get('/v1/company'), 200);
    const id = answer.headers['x-request-id'] ?? '';
    const found = lines.filter((line) => JSON.parse(line).reqId === id);
    expect(found.map((line) => JSON.parse(line).msg)).toEqual([
      'incoming request',
      'request completed',
    ]);
  });
});

/** A request whose target goes out letter by letter; a client would tidy it first. */
function sendRaw({ app }: TestService, target: string): Promise<string> {
  const { port } = app.server.address() as AddressInfo;
  return new Promise((resolve, reject) => {
    let answer = '';
    const socket = connect(port, '127.0.0.1', () => {
      socket.write(`GET ${target} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n`);
    });
    socket.on('data', (data) => {
      answer += data.toString('utf8');
    });
    socket.on('end', () => resolve(answer));
    socket.on('error', reject);
  });
}
