import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { retryDelivery } from '../harness/delivery.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { offerAtLink, visit } from '../harness/visitor.ts';
import { type Behavior, type BrokenServer, brokenServer } from './broken-server.ts';
import { readMail, workOff } from './mails-of.ts';
import { linkIn, siteWithMail } from './readers.ts';

// A link is a key. One in a mail that did not arrive opens nothing, whoever came by it on the way;
// one in a mail that may have arrived goes on opening.

const HOUR = 3_600_000;
let service: TestService;
let server: BrokenServer;
beforeAll(async () => {
  service = await createTestService();
});
afterEach(() => server.close());
afterAll(() => service.close());

interface Attempted {
  state: string;
  attempts: number;
  /** The links of the mails that went over the line, whole or not, oldest first. */
  links: `/${string}`[];
}

/** One quote's mail, tried so often by a server that fails as it is told. */
async function attempt(behaviors: readonly Behavior[], retriesIt = false): Promise<Attempted> {
  await offerAtLink(service, { site: await siteWithMail(service) });
  server = await brokenServer((connection) => ({ ...behaviors[connection] }));
  const began = service.clock.now().toISOString();
  const timeouts = { connectMs: 2_000, stepMs: 300, finalAnswerMs: 300 };
  const newest = async () => {
    const listed = await service.as('dispatcher').get('/v1/deliveries?order=newest&limit=1');
    return expectStatus(listed, 200).body.items[0];
  };
  for (const _ of behaviors) {
    await workOff(service, { mail: { kind: 'smtp', server: { url: server.url, timeouts } } });
    service.clock.advance(HOUR);
    const { id, state } = await newest();
    if (state === 'dead' && retriesIt) expectStatus(await retryDelivery(service, id), 200);
  }
  service.clock.set(began);
  const links = server.received().map((raw) => linkIn(readMail(raw)) ?? '/');
  return { ...(await newest()), links };
}

async function opens(path: `/${string}`): Promise<number> {
  return (await (await visit(service)).get(path)).status;
}

const no = { does: 'reply', with: '550 5.7.1 not wanted' } as const;
const busy = { does: 'reply', with: '451 4.3.0 later' } as const;

describe('a link in a mail', () => {
  test('that a server did not take opens nothing, and the next mail has one of its own that does', async () => {
    const { state, attempts, links } = await attempt([{ end: busy }, {}]);
    expect([state, attempts]).toEqual(['sent', 2]);
    const [first = '/', second = '/'] = links;
    expect(links).toHaveLength(2);
    expect(first).not.toBe(second);
    expect([await opens(first), await opens(second)]).toEqual([404, 303]);
  });

  test('is answered like one that never was, once it is worthless', async () => {
    const { links } = await attempt([{ end: busy }, {}]);
    const reader = await visit(service);
    const old = await reader.get(links[0] ?? '/');
    const unknown = await reader.get(`/q/${'A'.repeat(43)}`);
    expect([old.status, old.text]).toEqual([unknown.status, unknown.text]);
  });

  test('that a server refused for good opens nothing', async () => {
    const { state, links } = await attempt([{ end: no }]);
    expect(state).toBe('dead');
    expect(await opens(links[0] ?? '/')).toBe(404);
  });

  test('that may have arrived goes on opening, also beside the one of a second try', async () => {
    const { state, links } = await attempt([{ end: { does: 'drop' } }, {}], true);
    expect(state).toBe('sent');
    expect(links).toHaveLength(2);
    for (const link of links) expect(await opens(link)).toBe(303);
  });
});
