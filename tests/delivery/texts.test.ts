import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { MailCarrier } from '../../src/delivery/delivery-deps.ts';
import type { DeliveryDeps } from '../../src/delivery/index.ts';
import { askText, retryDelivery } from '../harness/delivery.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';
import { workOff } from './mails-of.ts';
import { handToAnother } from './readers.ts';
import { type GatewayAnswer, type ScriptedGateway, scriptedGateway } from './scripted-gateway.ts';

// A text from the ask to the gateway, whatever that one does with it.

/** No mail waits here. */
const NO_MAIL: MailCarrier = { kind: 'smtp', server: { url: 'smtp://127.0.0.1:1' } };
const HOUR = 3_600_000;
const DAY = 24 * HOUR;
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
    allowedActions: string[];
  };
  asked: ScriptedGateway['asked'];
  id: string;
  phone: string;
}

/** What happens to a text beside its gateway's answers. */
interface Beside {
  /** After the worker came by for the first time. */
  happens?: (offer: Offer) => Promise<void>;
  ways?: (offer: Offer) => Partial<DeliveryDeps>;
}

/** Asks for a text, and lets the worker come by so often, days apart. */
async function send(
  answers: readonly GatewayAnswer[],
  times: number,
  { happens, ways }: Beside = {},
): Promise<Sent> {
  const offer = await offerAtLink(service);
  const { job } = offer;
  const id = await askText(service, job.ticketId);
  gateway = await scriptedGateway(answers);
  const began = service.clock.now().toISOString();
  for (let time = 0; time < times; time += 1) {
    await workOff(service, {
      text: { url: gateway.url, timeoutMs: 300 },
      mail: NO_MAIL,
      ...ways?.(offer),
    });
    if (time === 0) await happens?.(offer);
    service.clock.advance(2 * DAY);
  }
  service.clock.set(began);
  const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
  const { phone } = await service.db.prisma.customer.findUniqueOrThrow({
    where: { id: job.customerId },
  });
  return { delivery: body, asked: gateway.asked, id, phone };
}

/** Makes every link of a text worthless, as staff may. */
async function revokeLinks({ quote }: Offer): Promise<void> {
  const path = `/v1/quotes/${quote.body.id}/links` as const;
  const { items } = expectStatus(await service.as('dispatcher').get(path), 200).body;
  for (const { id, deliveryId, revokedAt } of items) {
    if (deliveryId === null || revokedAt !== null) continue;
    expectStatus(await service.as('dispatcher').post(`/v1/quote-links/${id}/revoke`, {}), 200);
  }
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

describe('a link that staff revoked while its text waited', () => {
  test('after a try without an answer: what is refused then may have arrived all the same', async () => {
    const { delivery, asked } = await send(['closes', { status: 400 }], 2, {
      happens: revokeLinks,
    });
    expect(delivery).toMatchObject({ state: 'dead', attempts: 2, mayHaveArrived: true });
    expect(delivery.reason).toContain('may have arrived');
    expect(await statusesOf(asked)).toEqual([404, 404]);
  });

  test('after a worker broke off that had asked the gateway: what is refused then may have', async () => {
    let breaksOff = true;
    const { delivery, asked, phone } = await send([{ status: 202 }, { compares: 409 }], 1, {
      ways: (offer) => ({
        atStep: async (step) => {
          if (step !== 'carried' || !breaksOff) return;
          breaksOff = false;
          await revokeLinks(offer);
          // Until another worker takes this one to be gone.
          service.clock.advance(HOUR);
          throw new Error('as a process that ends here');
        },
      }),
    });
    expect(asked).toHaveLength(2);
    expect(delivery).toMatchObject({ state: 'dead', attempts: 2, mayHaveArrived: true });
    expect(delivery.sentTo).toBe(phone);
  });

  test('of a try that the gateway did not take: what is refused then has not arrived', async () => {
    const { delivery, asked } = await send([{ status: 503 }, { status: 400 }], 2, {
      // While the try goes on: afterwards its link is worthless anyway.
      ways: (offer) => ({
        atStep: async (step) => (step === 'composed' ? revokeLinks(offer) : undefined),
      }),
    });
    expect(delivery).toMatchObject({ state: 'dead', attempts: 2, mayHaveArrived: false });
    expect(delivery.reason).not.toContain('may have arrived');
    expect(asked).toHaveLength(2);
  });
});

test('a number that changes after a try without an answer: the key is not used for the other one', async () => {
  const { delivery, asked } = await send(['closes', { status: 202 }], 2, {
    happens: async ({ job }) => {
      await service.owner.query(`UPDATE customer SET phone = '555-0199' WHERE id = $1`, [
        job.customerId,
      ]);
    },
  });
  expect(asked).toHaveLength(1);
  expect(delivery).toMatchObject({
    ...{ state: 'dead', attempts: 2, mayHaveArrived: true, sentTo: asked[0]?.body.to },
    reason: expect.stringContaining('The number on file is another one by now.'),
  });
});

describe('a dead text', () => {
  test('that may have arrived is asked for anew, under another key, and not tried again', async () => {
    const { delivery, id } = await send(['closes', { compares: 409 }], 2);
    expect(delivery.allowedActions).toEqual([]);
    expectStatus(await retryDelivery(service, id), 409);
    const { paper } = (await service.as('dispatcher').get(`/v1/deliveries/${id}`)).body;
    const anew = await askText(service, paper.ticketId);
    await workOff(service, {
      text: { url: gateway.url },
      mail: NO_MAIL,
    });
    expect(gateway.asked.at(-1)).toMatchObject({ key: anew });
    expect((await service.as('dispatcher').get(`/v1/deliveries/${anew}`)).body.state).toBe('sent');
  });

  test('of which no try can have arrived is tried again under its own key', async () => {
    const { delivery, id } = await send([{ status: 400 }, { status: 202 }], 1);
    expect(delivery).toMatchObject({ mayHaveArrived: false, allowedActions: ['retry'] });
    expectStatus(await retryDelivery(service, id), 200);
    await workOff(service, {
      text: { url: gateway.url },
      mail: NO_MAIL,
    });
    expect(gateway.asked.map(({ key }) => key)).toEqual([id, id]);
    expect((await service.as('dispatcher').get(`/v1/deliveries/${id}`)).body.state).toBe('sent');
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
    mail: NO_MAIL,
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
    mail: NO_MAIL,
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
      mail: NO_MAIL,
      ...ways,
    });
    const { body } = await service.as('dispatcher').get(`/v1/deliveries/${id}`);
    expect(body).toMatchObject({ state: 'dead', reason });
    expect(gateway.asked).toEqual([]);
  });
});
