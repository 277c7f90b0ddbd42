import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { SMTPServer } from 'smtp-server';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { DeliveryDeps, DeliveryStep } from '../../src/delivery/delivery-deps.ts';
import { ATTEMPTS_MAX } from '../../src/delivery/next-attempt.ts';
import { type Delivering, startDelivering } from '../../src/delivery/start-delivering.ts';
import { PaperRefused } from '../../src/documents/index.ts';
import { ProblemError } from '../../src/platform/http/problem.ts';
import { type Behavior, brokenServer } from './broken-server.ts';
import { arrivalsOf, createOutbox, type Outbox, type StateRow } from './outbox.ts';
import { until } from './until.ts';

let outbox: Outbox;
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const timeouts = { connectMs: 2_000, stepMs: 300, finalAnswerMs: 300 };

beforeAll(async () => {
  outbox = await createOutbox();
});
afterAll(() => outbox.drop());

/** Works the outbox off until none of these deliveries is on its way any more. */
async function workOff(
  deliveries: readonly string[],
  mail: DeliveryDeps['mail'],
  change: Partial<DeliveryDeps> = {},
): Promise<StateRow[]> {
  const worker = startDelivering({ ...outbox.deps, mail, ...change }, { everyMs: 20 });
  try {
    return await until(
      () => Promise.all(deliveries.map((id) => outbox.stateOf(id))),
      (states) => states.every(isSettled),
    );
  } finally {
    await worker.stop();
  }
}

/** Sent, dead, or put off to a moment that has not come. */
function isSettled({ state, nextAt }: StateRow): boolean {
  if (state === 'waiting') return nextAt !== null && nextAt > outbox.clock.now();
  return state !== 'sending';
}

const smtp = (url: string): DeliveryDeps['mail'] => ({ kind: 'smtp', server: { url, timeouts } });

async function workOffAt(behavior: Behavior | ((n: number) => Behavior), count = 1) {
  const server = await brokenServer(behavior);
  const deliveries = await outbox.queue(count);
  try {
    const states = await workOff(deliveries, smtp(server.url));
    return { states, deliveries, arrived: server.arrived, server };
  } finally {
    await server.close();
  }
}

test('a mail server takes the mail with the paper, and the delivery says when and where to', async () => {
  const received: { to: string; message: string }[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        const to = session.envelope.rcptTo.map(({ address }) => address).join();
        received.push({ to, message: Buffer.concat(chunks).toString() });
        done();
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.server.address() as { port: number };
  const deliveries = await outbox.queue(3);
  const states = await workOff(deliveries, smtp(`smtp://127.0.0.1:${port}`));
  await new Promise<void>((resolve) => server.close(resolve));
  for (const [at, id] of deliveries.entries()) {
    const mails = received.filter(({ message }) => message.includes(id));
    expect(mails).toHaveLength(1);
    expect(states[at]).toMatchObject({ state: 'sent', attempts: 1, sentTo: mails[0]?.to });
    expect(mails[0]?.message).toContain(Buffer.from('%PDF-1.7 a paper').toString('base64'));
  }
});

test('without a mail server each mail becomes a file that a mail program opens, and nothing else', async () => {
  const directory = await mkdtemp(path.join(tmpdir(), 'evenhand-mail-'));
  const deliveries = await outbox.queue(2);
  const states = await workOff(deliveries, { kind: 'files', directory });
  expect(states.map(({ state }) => state)).toEqual(['sent', 'sent']);
  expect((await readdir(directory)).sort()).toEqual(deliveries.map((id) => `${id}.eml`).sort());
  const mail = await readFile(path.join(directory, `${deliveries[0]}.eml`), 'utf8');
  expect(mail).toContain(`Message-ID: <${deliveries[0]}@`);
  await rm(directory, { recursive: true });
});

test('two workers at once send no mail twice', async () => {
  const server = await brokenServer({});
  const deliveries = await outbox.queue(40);
  const mail = smtp(server.url);
  const workers: Delivering[] = [1, 2].map(() =>
    startDelivering({ ...outbox.deps, mail }, { everyMs: 5 }),
  );
  await until(
    () => Promise.all(deliveries.map((id) => outbox.stateOf(id))),
    (states) => states.every(({ state }) => state === 'sent'),
  );
  await Promise.all(workers.map((worker) => worker.stop()));
  await server.close();
  expect(deliveries.map((id) => arrivalsOf(server.arrived, id))).toEqual(deliveries.map(() => 1));
});

describe('a server that is busy', () => {
  test('is left alone for a minute, and then has the mail once', async () => {
    const server = await brokenServer((connection) =>
      connection === 0 ? { RCPT: { does: 'reply', with: '451 4.7.1 come back later' } } : {},
    );
    const deliveries = await outbox.queue(1);
    const [first] = await workOff(deliveries, smtp(server.url));
    expect(first).toMatchObject({
      state: 'waiting',
      attempts: 1,
      reason: 'The mail server did not take it: 451 4.7.1 come back later',
    });
    outbox.clock.advance(2 * MINUTE);
    const [second] = await workOff(deliveries, smtp(server.url));
    await server.close();
    expect(second).toMatchObject({ state: 'sent', attempts: 2, reason: null });
    expect(server.arrived).toHaveLength(1);
  });

  test('for days is given up on, with how often it was tried', async () => {
    const server = await brokenServer({ greeting: { does: 'reply', with: '421 4.3.2 not now' } });
    const deliveries = await outbox.queue(1);
    let state: StateRow | undefined;
    for (let attempt = 1; attempt <= ATTEMPTS_MAX; attempt += 1) {
      [state] = await workOff(deliveries, smtp(server.url));
      outbox.clock.advance(30 * HOUR);
    }
    await server.close();
    expect(state).toMatchObject({ state: 'dead', attempts: ATTEMPTS_MAX, handedOverAt: null });
    expect(state?.reason).toMatch(/421 4\.3\.2 not now.* Tried 9 times\.$/);
  });
});

test('a server that says no for good: dead at once, with its words', async () => {
  const { states } = await workOffAt({ RCPT: { does: 'reply', with: '550 5.1.1 no such user' } });
  expect(states[0]).toMatchObject({
    state: 'dead',
    attempts: 1,
    reason: 'The mail server refused it: 550 5.1.1 no such user',
  });
});

test('a server that takes the mail and breaks off: dead, it may have arrived, and never again by itself', async () => {
  const { states, deliveries, arrived } = await workOffAt({ end: { does: 'drop' } });
  expect(arrivalsOf(arrived, deliveries[0] ?? '')).toBe(1);
  expect(states[0]?.reason).toContain('it may have arrived');
  outbox.clock.advance(100 * HOUR);
  const patient = await brokenServer({});
  await workOff(deliveries, smtp(patient.url));
  await patient.close();
  expect(patient.arrived).toEqual([]);
});

describe('a database that is away when the server has answered', () => {
  /** The outbox's own, away for so many transactions after the answer. */
  function away(transactions: number, answered: () => boolean): DeliveryDeps['db'] {
    let left = transactions;
    const { db } = outbox.deps;
    return {
      ...db,
      transact: (work, isolation) => {
        if (!answered() || left === 0) return db.transact(work, isolation);
        left -= 1;
        return Promise.reject(new Error('the database is away'));
      },
    };
  }

  test.each([
    ['yes', {}, { state: 'sent', attempts: 1, reason: null }],
    [
      'no',
      { end: { does: 'reply', with: '550 5.7.1 not wanted' } },
      { state: 'dead', reason: 'The mail server refused it: 550 5.7.1 not wanted' },
    ],
  ] as const)('is told once it is back: a %s is not forgotten', async (_, behavior, written) => {
    const server = await brokenServer(behavior);
    const deliveries = await outbox.queue(1);
    let answered = false;
    const db = away(3, () => answered);
    const atStep = async (step: DeliveryStep) => {
      answered ||= step === 'carried';
    };
    const [state] = await workOff(deliveries, smtp(server.url), { db, atStep });
    await server.close();
    expect(state).toMatchObject(written);
  });

  test('and stays away: a worker that is stopped ends all the same, and the mail may have arrived', async () => {
    const server = await brokenServer({});
    const [id = ''] = await outbox.queue(1);
    let answered = false;
    const worker = startDelivering(
      {
        ...outbox.deps,
        ...{ db: away(Number.POSITIVE_INFINITY, () => answered), mail: smtp(server.url) },
        atStep: async (step) => {
          answered ||= step === 'carried';
        },
      },
      { everyMs: 20, stopWithinMs: 50 },
    );
    await until(
      () => answered,
      (isSo) => isSo,
    );
    await worker.stop();
    outbox.clock.advance(HOUR);
    const [state] = await workOff([id], smtp(server.url));
    await server.close();
    expect(state?.reason).toContain('it may have arrived');
    expect(arrivalsOf(server.arrived, id)).toBe(1);
  });
});

test('somebody without a mail address: dead, and it says so', async () => {
  const deliveries = await outbox.queue(1, { email: null });
  const [state] = await workOff(deliveries, smtp('smtp://127.0.0.1:1'));
  expect(state).toMatchObject({ state: 'dead', reason: 'There is no mail address on file.' });
});

test('a text where no gateway is set up: dead, and it says what is missing and what to do instead', async () => {
  const deliveries = await outbox.queue(1, { channel: 'text' });
  const [state] = await workOff(deliveries, smtp('smtp://127.0.0.1:1'));
  expect(state?.reason).toContain('TEXT_GATEWAY_URL');
  expect(state?.reason).toContain('Make a link of the quote instead');
});

test('a paper that cannot be drawn now is drawn later, and nothing is lost', async () => {
  const server = await brokenServer({});
  const deliveries = await outbox.queue(1);
  const [first] = await workOff(deliveries, smtp(server.url), {
    papers: {
      read: () =>
        Promise.reject(new ProblemError('unavailable', 'Too many papers are being drawn.')),
    },
  });
  expect(first).toMatchObject({
    state: 'waiting',
    reason: 'It could not be prepared: Too many papers are being drawn.',
  });
  outbox.clock.advance(2 * MINUTE);
  const [second] = await workOff(deliveries, smtp(server.url));
  await server.close();
  expect(second?.state).toBe('sent');
});

test('what broke on our side is told without the address it was about', async () => {
  const deliveries = await outbox.queue(1, { email: 'named@customer.example' });
  const [state] = await workOff(deliveries, smtp('smtp://127.0.0.1:1'), {
    papers: { read: () => Promise.reject(new Error('no room for <Named@Customer.Example>')) },
  });
  expect(state).toMatchObject({
    ...{ state: 'waiting', sentTo: null },
    reason: 'It could not be prepared: no room for <[the address]>',
  });
  const server = await brokenServer({});
  outbox.clock.advance(2 * MINUTE);
  const [later] = await workOff(deliveries, smtp(server.url));
  await server.close();
  expect(later?.state).toBe('sent');
});

test('a paper that contradicts itself: dead at once, and it says so, while the others go out', async () => {
  const server = await brokenServer({});
  const deliveries = await outbox.queue(3);
  let asked = 0;
  const read: DeliveryDeps['papers']['read'] = (...what) => {
    asked += 1;
    if (asked !== 2) return outbox.deps.papers.read(...what);
    return Promise.reject(new PaperRefused('All options: 10 lines come to $1.00, not to $2.00.'));
  };
  const states = await workOff(deliveries, smtp(server.url), { papers: { read } });
  await server.close();
  const dead = states.filter(({ state }) => state === 'dead');
  expect(states.filter(({ state }) => state === 'sent')).toHaveLength(2);
  expect(dead).toMatchObject([
    {
      attempts: 1,
      reason: 'The paper contradicts itself: All options: 10 lines come to $1.00, not to $2.00.',
    },
  ]);
});

test('a folder for mails that cannot be written into: waits, says so, and goes on when it can be', async () => {
  const above = await mkdtemp(path.join(tmpdir(), 'evenhand-mail-'));
  const directory = path.join(above, 'mail');
  await writeFile(directory, 'a file where the folder should be');
  const deliveries = await outbox.queue(2);
  const first = await workOff(deliveries, { kind: 'files', directory });
  expect(first).toMatchObject(
    deliveries.map(() => ({
      ...{ state: 'waiting', attempts: 1, handedOverAt: null },
      reason: 'The file could not be written (EEXIST).',
    })),
  );
  await rm(directory);
  outbox.clock.advance(2 * MINUTE);
  const second = await workOff(deliveries, { kind: 'files', directory });
  expect(second.map(({ state }) => state)).toEqual(['sent', 'sent']);
  expect(await readdir(directory)).toHaveLength(2);
  await rm(above, { recursive: true });
});

test('a worker that is stopped while a server stalls puts the mail back and is gone soon', async () => {
  const server = await brokenServer({ MAIL: { does: 'stall' } });
  const [id = ''] = await outbox.queue(1);
  const worker = startDelivering(
    {
      ...outbox.deps,
      mail: { kind: 'smtp', server: { url: server.url } },
    },
    { everyMs: 20 },
  );
  await until(
    () => server.heard,
    (heard) => heard.some((line) => line.startsWith('MAIL')),
  );
  await worker.stop();
  await server.close();
  expect(await outbox.stateOf(id)).toMatchObject({ state: 'waiting', attempts: 1 });
  const patient = await brokenServer({});
  const [state] = await workOff([id], smtp(patient.url));
  await patient.close();
  expect(state).toMatchObject({ state: 'sent', attempts: 2 });
});

test('a lease that ran out while the mail was on its way: its end never goes out', async () => {
  const server = await brokenServer({});
  const [id = ''] = await outbox.queue(1);
  // The clock jumps between the claim and the handing over, and another worker looks.
  const worker = startDelivering(
    {
      ...outbox.deps,
      mail: smtp(server.url),
      atStep: async (step) => {
        if (step === 'composed') outbox.clock.advance(10 * MINUTE);
      },
    },
    { everyMs: 100_000 },
  );
  await until(
    () => outbox.stateOf(id),
    ({ state, attempts }) => state === 'waiting' && attempts === 1,
  );
  await worker.stop();
  expect(server.arrived).toEqual([]);
  outbox.clock.advance(2 * MINUTE);
  const [recovered] = await workOff([id], smtp(server.url));
  await server.close();
  expect(recovered).toMatchObject({ state: 'sent', attempts: 2 });
  expect(arrivalsOf(server.arrived, id)).toBe(1);
});
