import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  DELIVERY_STEPS,
  type DeliveryStep,
  type MailCarrier,
} from '../../src/delivery/delivery-deps.ts';
import { startDelivering } from '../../src/delivery/start-delivering.ts';
import { brokenServer } from './broken-server.ts';
import { arrivalsOf, createOutbox, type Outbox } from './outbox.ts';
import { until } from './until.ts';

// A worker's process is killed between any two steps. The next one finds what it left: each mail
// arrives once, or the delivery is dead and says that it may have.

const HOUR = 3_600_000;
let outbox: Outbox;
beforeAll(async () => {
  outbox = await createOutbox();
});
afterAll(() => outbox.drop());

/** Lets a process of its own begin with one mail, and die at a step. */
async function dieAt(step: DeliveryStep, mail: MailCarrier): Promise<string> {
  const [id = ''] = await outbox.queue(1);
  const orders = { databaseUrl: outbox.url, now: outbox.clock.now(), mail, dieAt: step };
  const program = fileURLToPath(new URL('worker.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', program, JSON.stringify(orders)], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const [, signal] = await once(child, 'exit');
  expect(signal).toBe('SIGKILL');
  return id;
}

/** Another worker comes when the lease of the dead one is over. */
async function recover(id: string, mail: MailCarrier) {
  outbox.clock.advance(HOUR);
  const worker = startDelivering({ ...outbox.deps, mail }, { everyMs: 20 });
  const state = await until(
    () => outbox.stateOf(id),
    ({ state }) => state === 'sent' || state === 'dead',
  );
  await worker.stop();
  return state;
}

/** From the mark on nobody knows whether the end left, unless the answer was written down. */
const UNSURE: readonly DeliveryStep[] = ['handed_over', 'carried'];

describe.each(DELIVERY_STEPS)('a worker that is killed at "%s"', (step) => {
  test('with a mail server: the mail is there once, or dead and may be', async () => {
    const server = await brokenServer({});
    const mail: MailCarrier = { kind: 'smtp', server: { url: server.url } };
    const id = await dieAt(step, mail);
    const before = arrivalsOf(server.arrived, id);
    const state = await recover(id, mail);
    await server.close();
    const arrivals = arrivalsOf(server.arrived, id);
    if (UNSURE.includes(step)) {
      expect(state).toMatchObject({
        state: 'dead',
        // It was we who stopped, and nobody knows what the server said.
        reason:
          'The program stopped while it was sending this, before it heard an answer: it may have arrived. Ask, then send it again.',
      });
      // Nothing was sent after the restart.
      expect(arrivals).toBe(before);
    } else {
      expect(state.state).toBe('sent');
      expect(arrivals).toBe(1);
    }
  });
});

describe.each(['composed', 'handed_over', 'carried'] as const)('the same at "%s"', (step) => {
  test('with a folder: the file is there once, or dead and may be', async () => {
    const directory = await mkdtemp(path.join(tmpdir(), 'evenhand-mail-'));
    const mail: MailCarrier = { kind: 'files', directory };
    const id = await dieAt(step, mail);
    const state = await recover(id, mail);
    const files = (await readdir(directory)).filter((name) => name.endsWith('.eml'));
    await rm(directory, { recursive: true });
    if (UNSURE.includes(step)) {
      expect(state.state).toBe('dead');
      expect(files.length).toBeLessThanOrEqual(1);
    } else {
      expect(state.state).toBe('sent');
      expect(files).toEqual([`${id}.eml`]);
    }
  });
});
