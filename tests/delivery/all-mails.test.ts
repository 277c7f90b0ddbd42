import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  DELIVERY_STEPS,
  type DeliveryStep,
  type MailCarrier,
} from '../../src/delivery/delivery-deps.ts';
import { startDelivering } from '../../src/delivery/start-delivering.ts';
import { badLine, type Cut } from './bad-line.ts';
import { arrivalsOf, createOutbox, type Outbox, type StateRow } from './outbox.ts';
import { type RealServerOptions, realServer } from './real-server.ts';
import { seeded } from './seeded.ts';
import { until } from './until.ts';

// Everything that goes wrong at once: two hundred mails, a mail server of somebody else's making that
// refuses and falls silent at every step, a line to it that breaks at any byte, and two workers of
// whom one is killed again and again. Each mail arrives once, or the dead letter says why.

const MAILS = 200;
const ROUNDS_MAX = 20;
const DAY = 24 * 3_600_000;
/** Some more than a mail and what is said around it. */
const CONVERSATION_BYTES = 4_000;
const ANSWERS_BYTES = 400;

const MOODS = [
  ...['busy at greeting', 'no at greeting', 'silent at greeting'],
  ...['busy at MAIL', 'no at MAIL', 'silent at MAIL'],
  ...['busy at RCPT', 'no at RCPT', 'silent at RCPT'],
  ...['busy at end', 'no at end', 'silent at end'],
] as const;
const CUTS = ['drop to_server', 'stall to_server', 'drop to_client', 'stall to_client'] as const;

let outbox: Outbox;
beforeAll(async () => {
  outbox = await createOutbox();
});
afterAll(() => outbox.drop());

test('two hundred mails through everything that can go wrong: each arrives once, or is dead and says why', async () => {
  const told = new Set<string>();
  const server = await realServer(moody(seeded(1), told));
  const line = await badLine(server.port, cuts(seeded(2), told));
  const mail: MailCarrier = {
    kind: 'smtp',
    server: {
      url: `smtp://127.0.0.1:${line.port}?ignoreTLS=true`,
      timeouts: { connectMs: 2_000, stepMs: 250, finalAnswerMs: 250 },
    },
  };
  const deliveries = await outbox.queue(MAILS);
  const look = () => Promise.all(deliveries.map((id) => outbox.stateOf(id)));
  const next = seeded(3);
  let killed = 0;
  for (let round = 0; round < ROUNDS_MAX && (await look()).some(isOpen); round += 1) {
    const child = await mortalWorker(mail, next);
    let underWay = 0;
    const atStep = async (step: DeliveryStep) => {
      if (step === 'claimed') underWay += 1;
      if (step === 'settled') underWay -= 1;
    };
    const worker = startDelivering({ ...outbox.deps, mail, atStep }, { everyMs: 20 });
    await until(look, (states) => underWay === 0 && !states.some(isDue), 120_000);
    await worker.stop();
    if (child.signalCode !== null) killed += 1;
    else await Promise.all([once(child, 'exit'), child.kill('SIGKILL')]);
    outbox.clock.advance(2 * DAY);
  }
  await line.close();
  await server.close();

  const states = await look();
  const arrivals = deliveries.map((id) => arrivalsOf(server.arrived, id));
  expect(arrivals.filter((times) => times > 1)).toEqual([]);
  for (const [at, { state, reason }] of states.entries()) {
    const there = arrivals[at] === 1;
    expect(state, reason ?? '').toMatch(/^(sent|dead)$/);
    if (state === 'sent') expect(there, `sent ${deliveries[at]}`).toBe(true);
    if (state === 'dead') expect(reason).toMatch(/\S/);
    // A dead letter that is there after all says that it may be.
    if (state === 'dead' && there) expect(reason).toContain('may have arrived');
  }
  // Whatever the server has, it has to the last letter.
  for (const message of server.arrived) expect(message).toMatch(/\r\n--\S+-Part_1--\r\n$/);
  // And nearly all of it did happen: what is seldom reached may be missed.
  expect(told.size).toBeGreaterThan((MOODS.length + CUTS.length) * 0.75);
  expect(states.filter(({ state }) => state === 'sent').length).toBeGreaterThan(MAILS / 2);
  expect(killed).toBeGreaterThan(0);
}, 480_000);

/** Neither sent nor dead. */
function isOpen({ state }: StateRow): boolean {
  return state === 'waiting' || state === 'sending';
}

function isDue({ state, nextAt }: StateRow): boolean {
  return state === 'waiting' && nextAt !== null && nextAt <= outbox.clock.now();
}

/** A worker in a process of its own, that dies at one of its steps sooner or later. */
async function mortalWorker(mail: MailCarrier, next: () => number): Promise<ChildProcess> {
  const orders = {
    ...{ databaseUrl: outbox.url, now: outbox.clock.now(), mail },
    dieAt: pick<DeliveryStep>(next, DELIVERY_STEPS),
    survives: Math.floor(next() * 6),
  };
  const program = fileURLToPath(new URL('worker.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', program, JSON.stringify(orders)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await Promise.race([once(child.stdout, 'data'), once(child, 'exit')]);
  return child;
}

type Answer = (error?: Error | null) => void;

/** Refuses and falls silent at a step of three in ten of its conversations. */
function moody(next: () => number, told: Set<string>): RealServerOptions {
  const moodOf = new Map<string, string>();
  const react = (session: string, step: string, answer: Answer): boolean => {
    const mood = moodOf.get(session) ?? '';
    if (!mood.endsWith(step)) {
      answer();
      return true;
    }
    told.add(mood);
    if (mood.startsWith('busy')) answer(failure(451, 'come back later'));
    if (mood.startsWith('no')) answer(failure(550, 'we do not want this'));
    return false;
  };
  return {
    ...{ disabledCommands: ['STARTTLS'], disableReverseLookup: true },
    onConnect: ({ id }, done) => {
      moodOf.set(id, next() < 0.3 ? pick(next, MOODS) : '');
      react(id, 'greeting', done);
    },
    onMailFrom: (_address, { id }, done) => void react(id, 'MAIL', done),
    onRcptTo: (_address, { id }, done) => void react(id, 'RCPT', done),
    takes: ({ id }, take, done) => {
      const mood = moodOf.get(id) ?? '';
      // Whoever falls silent at the end has the mail by then.
      if (mood === 'silent at end' || !mood.endsWith('end')) take();
      react(id, 'end', done);
    },
  };
}

function failure(responseCode: number, words: string): Error {
  return Object.assign(new Error(words), { responseCode });
}

/** Breaks a quarter of the connections, anywhere. */
function cuts(next: () => number, told: Set<string>): (connection: number) => Cut | undefined {
  return () => {
    if (next() >= 0.25) return undefined;
    const way = pick(next, ['to_server', 'to_client'] as const);
    const does = pick(next, ['drop', 'stall'] as const);
    told.add(`${does} ${way}`);
    const most = way === 'to_server' ? CONVERSATION_BYTES : ANSWERS_BYTES;
    return { way, does, afterBytes: Math.floor(next() * most) };
  };
}

function pick<T>(next: () => number, from: readonly T[]): T {
  const picked = from[Math.floor(next() * from.length)];
  if (picked === undefined) throw new Error('there is nothing to pick from');
  return picked;
}
