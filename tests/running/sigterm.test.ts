import { once } from 'node:events';
import { connect } from 'node:net';
import { afterEach, expect, it } from 'vitest';
import { loadCompany } from '../../seed/load-company.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { createTestDatabase } from '../harness/test-database.ts';
import { figure, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';
import { startWriters } from './writers.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

it('a service that is told to end under load loses nothing that it acknowledged and begins nothing that it refused', async () => {
  const database = await createTestDatabase();
  undo.push(database.drop);
  const staff = await loadCompany({
    ...{ db: database.db, clock: systemClock },
    ids: timedIds(systemClock),
  });
  const service = await startProcess(undo, {
    DATABASE_URL: database.url,
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  const { token } = staff.dispatcher;
  // A stream that somebody listens to, and a request of which one half has come.
  const stream = await fetch(`${service.url}/v1/board/events`, {
    headers: { authorization: `Bearer ${token}` },
  });
  const half = sendHalf(service.url, token, 'Half of a customer');
  undo.push(async () => half.socket.destroy());
  const inFlight = () => figure(service.metricsUrl, 'evenhand_http_requests_in_flight');
  await until(async () => (await inFlight()) === 2);

  const writers = startWriters(undo, { url: service.url, token, count: 8, again: false });
  await until(() => writers.written.acknowledged.size >= 40);
  service.terminate();
  await until(() => isClosed(service.url));
  expect(service.exitCode()).toBeUndefined();
  half.sendRest();
  expect(await half.answer).toMatch(/^HTTP\/1\.1 201 /);
  await writers.stop();
  expect(await service.ended).toBe(0);
  // Its end is the end of the stream; what came before does not matter.
  await stream.text().catch(() => undefined);

  const { acknowledged, refused, problems } = writers.written;
  const { rows } = await database.owner.query<{ name: string }>('SELECT name FROM customer');
  expect(rows.map(({ name }) => name).sort()).toEqual(
    [...acknowledged, 'Half of a customer'].sort(),
  );
  expect(refused.size).toBe(8);
  for (const problem of problems) {
    expect(problem).toEqual({
      ...{ code: 'unavailable', status: 503, retryAfter: '2' },
      mediaType: 'application/problem+json; charset=utf-8',
    });
  }
  // The last turn of the sealer is part of the end.
  const unsealed = await database.owner.query('SELECT FROM journal_unsealed');
  expect(unsealed.rowCount).toBe(0);
}, 240_000);

/** A request whose head has come and whose body has not come whole. */
function sendHalf(url: string, token: string, name: string) {
  const body = JSON.stringify({ name, phone: '555-0151' });
  const { port, host } = new URL(url);
  const socket = connect(Number(port), '127.0.0.1');
  const head = [
    'POST /v1/customers HTTP/1.1',
    `Host: ${host}`,
    `Authorization: Bearer ${token}`,
    'Content-Type: application/json',
    `Content-Length: ${body.length}`,
    `Idempotency-Key: ${crypto.randomUUID()}`,
  ];
  socket.write(`${head.join('\r\n')}\r\n\r\n${body.slice(0, 10)}`);
  let text = '';
  socket.on('data', (chunk) => {
    text += chunk;
  });
  const answer = once(socket, 'close').then(() => text);
  return { socket, answer, sendRest: () => socket.write(body.slice(10)) };
}

/** True when nobody takes connections there any more. */
async function isClosed(url: string): Promise<boolean> {
  const socket = connect(Number(new URL(url).port), '127.0.0.1');
  const isRefused = await Promise.race([
    once(socket, 'connect').then(() => false),
    once(socket, 'error').then(() => true),
  ]).catch(() => true);
  socket.destroy();
  return isRefused;
}
