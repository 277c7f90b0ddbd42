import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { DeliveryDeps } from '../../src/delivery/index.ts';
import { askText } from '../harness/delivery.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';
import { workOff } from './mails-of.ts';
import { handToAnother } from './readers.ts';
import { type GatewayAnswer, type ScriptedGateway, scriptedGateway } from './scripted-gateway.ts';

// A text from the ask to the gateway, whatever that one does with it.

const DAY = 24 * 3_600_000;
let service: TestService;
let gateway: ScriptedGateway;
beforeAll(async () => {
  service = await createTestService();
});
afterEach(() => gateway.close());
afterAll(() => service.close());

interface Sent {
  delivery: {
    state: string;
    attempts: number;
    reason: string | null;
    sentTo: string | null;
    mayHaveArrived: boolean;
  };
  asked: ScriptedGateway['asked'];
  id: string;
  phone: string;
}

/** Asks for a text, and lets the worker come by so often, days apart. */
async function send(answers: readonly GatewayAnswer[], times: number): Promise<Sent> {
  const { job } = await offerAtLink(service);
  const id = await askText(service, job.ticketId);
  gateway = await scriptedGateway(answers);
  const began = service.clock.now().toISOString();
  for (let time = 0; time < times; time += 1) {
    await workOff(service, {
      text: { url: gateway.url, timeoutMs: 300 },
      // No mail waits here.
      mail: { kind: 'smtp', server: { url: 'smtp://127.0.0.1:1' } },
    });
    service.clock.advance(2 * DAY);
  }
  service.clock.set(began);
  const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
  const { phone } = await service.db.prisma.customer.findUniqueOrThrow({
    where: { id: job.customerId },
  });
  return { delivery: body, asked: gateway.asked, id, phone };
}

/** The path of the link in a text. */
function linkOf({ body: { text } }: ScriptedGateway['asked'][number]): `/${string}` {
  return new URL(/https:\S+/.exec(text)?.[0] ?? '').pathname as `/${string}`;
}

/** What opening the link of each try answers. */
async function statusesOf(asked: ScriptedGateway['asked']): Promise<number[]> {
  const statuses: number[] = [];
  for (const one of asked) statuses.push((await (await visit(service)).get(linkOf(one))).status);
  return statuses;
}

test('a gateway that takes it: sent, with a link that opens the page', async () => {
  const { delivery, asked, id, phone } = await send([{ status: 202 }], 1);
  expect(delivery).toMatchObject({ state: 'sent', attempts: 1, sentTo: phone, reason: null });
  expect(asked).toHaveLength(1);
  expect(asked[0]).toMatchObject({ key: id, body: { id, to: phone } });
  for (const one of asked) {
    expect(one.body.text.length).toBeLessThanOrEqual(160);
    expectStatus(await (await visit(service)).get(linkOf(one)), 303);
  }
});

describe('a gateway that takes it the second time: asked under the same key, sent once', () => {
  const failures: Record<string, GatewayAnswer> = {
    'breaks inside': { status: 500, words: 'down' },
    'says nothing at all': 'hangs',
    'breaks off': 'closes',
  };
  test.each(Object.entries(failures))('one that %s', async (_, failure) => {
    const { delivery, asked, id } = await send([failure, { status: 200 }], 2);
    expect(delivery).toMatchObject({ state: 'sent', attempts: 2, reason: null });
    expect(asked.map(({ key }) => key)).toEqual([id, id]);
    // A gateway sends the first text it has under a key, so that one's link opens as well.
    for (const one of asked) expectStatus(await (await visit(service)).get(linkOf(one)), 303);
  });
});

describe('a gateway that has not taken it: the link of that try opens nothing, the next one does', () => {
  test.each([408, 429, 503])('%i', async (status) => {
    const { delivery, asked } = await send([{ status }, { status: 200 }], 2);
    expect(delivery).toMatchObject({ state: 'sent', attempts: 2 });
    expect(await statusesOf(asked)).toEqual([404, 303]);
  });
});

describe('a gateway that took a try and broke off, and knows the key when it is asked again', () => {
  test.each([409, 422])(
    '%i: dead, it may have arrived, and the link in what it took opens',
    async (compares) => {
      const { delivery, asked, phone } = await send(['closes', { compares }], 3);
      expect(delivery).toMatchObject({
        ...{ state: 'dead', attempts: 2, mayHaveArrived: true, sentTo: phone },
        reason: expect.stringMatching(
          new RegExp(`refused it: ${compares} another text has this key .*may have arrived`),
        ),
      });
      expect(asked).toHaveLength(2);
      expect(await statusesOf(asked)).toEqual([303, 404]);
    },
  );

  test('the same once it had too much to do in between', async () => {
    const tries = ['closes', { status: 429 }, { compares: 409 }] as const;
    const { delivery, asked } = await send(tries, 3);
    expect(delivery).toMatchObject({ state: 'dead', attempts: 3, mayHaveArrived: true });
    expect(await statusesOf(asked)).toEqual([303, 404, 404]);
  });

  test('no try before was without an answer: refused, and it has not arrived', async () => {
    const { delivery, asked } = await send([{ status: 429 }, { compares: 409 }], 2);
    expect(delivery).toMatchObject({ state: 'dead', attempts: 2, mayHaveArrived: false });
    expect(await statusesOf(asked)).toEqual([404, 404]);
  });
});

test('a gateway that never answers: dead after so many tries, and it may have arrived', async () => {
  const { delivery, asked } = await send(['closes'], 10);
  expect(delivery).toMatchObject({ state: 'dead', attempts: 9, mayHaveArrived: true });
  expect(new Set(await statusesOf(asked))).toEqual(new Set([303]));
});

test('a worker that breaks off at the last try: dead, and the first one may have arrived', async () => {
  const { id, asked } = await send(['closes'], 1);
  const step = (change: string) =>
    service.owner.query(
      `UPDATE delivery_state SET ${change}, attempts = attempts + 1, version = version + 1
       WHERE delivery_id = $1`,
      [id],
    );
  await step(`state = 'sending', next_at = NULL, lease_until = changed_at`);
  for (let attempts = 3; attempts <= 9; attempts += 1) await step('lease_until = changed_at');
  await workOff(service, {
    text: { url: gateway.url },
    mail: { kind: 'smtp', server: { url: 'smtp://127.0.0.1:1' } },
  });
  const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
  expect(body).toMatchObject({
    ...{ state: 'dead', attempts: 9, mayHaveArrived: true },
    reason: expect.stringContaining('may have arrived'),
  });
  expect(await statusesOf(asked)).toEqual([303]);
});

test('a gateway that refuses it: dead at once, with its words, and its link opens nothing', async () => {
  const { delivery, asked } = await send([{ status: 400, words: 'no such number' }], 2);
  expect(delivery).toMatchObject({
    state: 'dead',
    attempts: 1,
    reason: 'The text gateway refused it: 400 no such number',
  });
  expect(asked).toHaveLength(1);
  for (const one of asked) expectStatus(await (await visit(service)).get(linkOf(one)), 404);
});

test('a gateway that is down for days: dead, with how often it was tried, under one key', async () => {
  const { delivery, asked, id } = await send([{ status: 503 }], 10);
  expect(delivery).toMatchObject({
    state: 'dead',
    attempts: 9,
    mayHaveArrived: false,
    reason: expect.stringMatching(/503.* Tried 9 times\.$/),
  });
  expect(new Set(asked.map(({ key }) => key))).toEqual(new Set([id]));
});

test('somebody whose number was erased meanwhile: dead, and it says so', async () => {
  const { job } = await offerAtLink(service);
  const id = await askText(service, job.ticketId);
  gateway = await scriptedGateway([{ status: 200 }]);
  await service.owner.query(`UPDATE customer SET phone = '' WHERE id = $1`, [job.customerId]);
  await workOff(service, {
    text: { url: gateway.url },
    mail: { kind: 'smtp', server: { url: 'smtp://127.0.0.1:1' } },
  });
  const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
  expect(body).toMatchObject({ state: 'dead', reason: 'There is no phone number on file.' });
  expect(gateway.asked).toEqual([]);
});

describe('a text that can carry no link any more: dead, and it says why', () => {
  const causes: Record<string, [string, (offer: Offer) => Promise<void>, Partial<DeliveryDeps>]> = {
    'its quote was answered meanwhile': [
      'There is nothing to answer any more.',
      async (offer) => {
        const reader = await visit(service, offer);
        expectStatus(await reader.post(`${offer.page}/accept`, yesForm(offer)), 303);
      },
      {},
    ],
    'somebody else decides by now': [
      'They do not answer for this site: send it to whoever approves or pays.',
      ({ job }) => handToAnother(service, job.siteId),
      {},
    ],
    'nobody reaches us from outside': [
      'A text is a link, and nobody reaches us from outside: PUBLIC_URL is empty.',
      async () => undefined,
      { publicUrl: undefined },
    ],
  };
  test.each(Object.entries(causes))('%s', async (_, [reason, happens, ways]) => {
    const offer = await offerAtLink(service);
    const id = await askText(service, offer.job.ticketId);
    await happens(offer);
    gateway = await scriptedGateway([{ status: 200 }]);
    await workOff(service, {
      text: { url: gateway.url },
      mail: { kind: 'smtp', server: { url: 'smtp://127.0.0.1:1' } },
      ...ways,
    });
    const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
    expect(body).toMatchObject({ state: 'dead', reason });
    expect(gateway.asked).toEqual([]);
  });
});
