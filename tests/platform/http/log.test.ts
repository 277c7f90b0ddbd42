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

describe('who asks (OWASP ASVS 5.0, 16.2.1)', () => {
  /** The lines of the request that an answer belongs to, each with who asked. */
  const toldOf = ({ headers }: { headers: Record<string, string> }) =>
    lines
      .map((line) => JSON.parse(line))
      .filter(({ reqId }) => reqId === headers['x-request-id'])
      .map(({ msg, asker }) => [msg, asker]);

  it('stands by kind and id in the lines of a request that was answered, and once', async () => {
    const answer = expectStatus(await service.as('owner').get('/v1/company'), 200);
    const asker = { kind: 'staff', id: service.staff.owner.id };
    expect(toldOf(answer)).toEqual([
      ['incoming request', undefined],
      ['request completed', asker],
    ]);
    expect(lines.filter((line) => line.split('"asker"').length > 2)).toEqual([]);
  });

  it('stands there where it was refused: their role, their input, a thing not theirs', async () => {
    const asker = { kind: 'staff', id: service.staff.technician.id };
    const technician = service.as('technician');
    const refused = [
      expectStatus(await technician.get('/v1/staff-access'), 403),
      expectStatus(await technician.get('/v1/tickets/no-id'), 400),
      expectStatus(await technician.get(`/v1/tickets/${randomUUID()}`), 404),
    ];
    for (const answer of refused) {
      expect(toldOf(answer)).toEqual([
        ['incoming request', undefined],
        ['request refused', asker],
        ['request completed', asker],
      ]);
    }
  });

  it('stands nowhere for who could not say who they are', async () => {
    const answer = await supertest(service.app.server)
      .get('/v1/company')
      .set('authorization', `Bearer ${randomBytes(32).toString('base64url')}`);
    expect(toldOf(expectStatus(answer, 401))).toEqual([
      ['incoming request', undefined],
      ['request refused', undefined],
      ['request completed', undefined],
    ]);
  });

  it('is the link at a customer’s page, and not what opens it', async () => {
    const { token } = await offerAtLink(service);
    const opened = await supertest(service.app.server).get(`/q/${token}`);
    const kept = await service.owner.query<{ id: string }>(
      'SELECT id FROM quote_link ORDER BY created_at DESC, id DESC LIMIT 1',
    );
    const asker = { kind: 'customer', id: kept.rows[0]?.id };
    expect(toldOf(expectStatus(opened, 303)).at(-1)).toEqual(['request completed', asker]);
    const cookie = String(opened.headers['set-cookie']).split(';')[0] ?? '';
    const page = opened.headers['location'] ?? '';
    const looked = await supertest(service.app.server).get(page).set('cookie', cookie);
    expect(toldOf(expectStatus(looked, 200)).at(-1)).toEqual(['request completed', asker]);
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
