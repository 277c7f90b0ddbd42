import { type AddressInfo, connect } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { read } from '../../../src/platform/http/route.ts';
import { createBareApp } from '../../harness/bare-app.ts';
import { createTestService, type TestService } from '../../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
});
afterAll(() => service.close());

it('a service that closes finishes what it is doing and refuses the rest with 503', async () => {
  let finish = () => {};
  const finished = new Promise<void>((resolve) => {
    finish = resolve;
  });
  let started = () => {};
  const running = new Promise<void>((resolve) => {
    started = resolve;
  });
  const app = await createBareApp(service.db, [
    read({
      operationId: 'wait',
      summary: 'Takes its time',
      tag: 'test',
      path: '/v1/wait',
      access: ['owner'],
      response: z.strictObject({ done: z.boolean() }),
      handle: async () => {
        started();
        await finished;
        return { body: { done: true } };
      },
    }),
  ]);
  const { port } = app.server.address() as AddressInfo;
  const request = `GET /v1/wait HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer ${service.staff.owner.token}\r\n\r\n`;
  let received = '';
  const socket = connect(port, '127.0.0.1', () => socket.write(request));
  socket.on('data', (chunk) => {
    received += chunk.toString();
  });
  const ended = new Promise<void>((resolve) => socket.on('close', () => resolve()));

  await running;
  const closed = app.close();
  // The second request is on its way down the same connection while the first still runs.
  socket.write(request);
  await wait(50);
  finish();
  await closed;
  socket.end();
  await ended;
  const statuses = [...received.matchAll(/HTTP\/1\.1 (\d+)/g)].map(([, status]) => status);
  expect(statuses).toEqual(['200', '503']);
  expect(received).toContain('"code":"unavailable"');
});
