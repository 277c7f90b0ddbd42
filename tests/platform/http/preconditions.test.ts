import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { routes } from '../../../src/app.ts';
import {
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../../harness/test-service.ts';

let service: TestService;
let job: Job;
let quote: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  quote = await issueQuote(
    service,
    await draftQuote(service, job, [await findCapacitor(service, job)]),
  );
});
afterAll(() => service.close());

const hash = '0'.repeat(64);
const options = [{ title: 'Repair', findingIds: [] }];

/** A well-formed body for every route that changes a versioned thing. */
const bodies: Record<string, object> = {
  changeCustomer: { name: 'Winifred Elm' },
  changeSite: { accessNotes: 'The key is next door.' },
  changeEquipment: { serial: 'S-1' },
  resolveTicketByPhone: {
    answers: [{ code: 'thermostat_calling_cooling', answer: 'no' }],
    whatHelped: 'Setting the thermostat to cool.',
  },
  cancelTicket: { reason: 'The caller changed their mind.' },
  startTravel: {},
  arrive: {},
  finishVisit: { ticketIs: 'work_complete' },
  reportNoAccess: { reason: 'Nobody at home.' },
  cancelVisit: { reason: 'The caller changed their mind.' },
  reviseQuote: { options },
  issueQuote: {},
  withdrawQuote: {},
  acceptQuote: {
    optionId: randomUUID(),
    acceptedByName: 'Winifred Ashgrove',
    consentText: 'Yes.',
    shownTotalCents: 1,
    shownContentHash: hash,
  },
  declineQuote: { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' },
};

const conditional = routes.flatMap((route) =>
  route.kind === 'act' && route.ifMatch ? [{ ...route, name: route.operationId }] : [],
);

describe('whoever changes a versioned thing says which version they mean', () => {
  it('holds for exactly the routes known here', () => {
    expect(conditional.map(({ name }) => name).sort()).toEqual(Object.keys(bodies).sort());
  });

  it.each(conditional)('$name without If-Match is refused with 428', async (route) => {
    const path = route.path.replace(/:\w+/, randomUUID());
    const body = bodies[route.operationId] ?? {};
    const client = service.as('owner');
    const refused =
      route.method === 'PATCH' ? await client.patch(path, body) : await client.post(path, body);
    expectProblem(expectStatus(refused, 428), 'precondition-required');
  });

  it.each(conditional)('$name on another version is refused with 412', async (route) => {
    const ids: Record<string, string> = {
      customerId: job.customerId,
      siteId: job.siteId,
      equipmentId: job.outdoorId,
      ticketId: job.ticketId,
      visitId: job.visitId,
      quoteId: quote.body.id,
    };
    const path = route.path.replace(/:(\w+)/, (_, name: string) => ids[name] ?? '');
    const body = bodies[route.operationId] ?? {};
    const client = service.as('owner');
    const stale = { ifMatch: '"v99"' };
    const refused =
      route.method === 'PATCH'
        ? await client.patch(path, body, stale)
        : await client.post(path, body, stale);
    expectProblem(expectStatus(refused, 412), 'version-changed');
    expect(refused.body.currentETag).toMatch(/^"v\d+(\.\d+)?"$/);
  });
});

describe('two who change the same version at once', () => {
  it.each([
    ['customer', () => `/v1/customers/${job.customerId}`, { name: 'A' }, { name: 'B' }],
    ['machine', () => `/v1/equipment/${job.outdoorId}`, { serial: 'A' }, { serial: 'B' }],
  ])('of a %s: one wins, the other is told, and one change is in the journal', async (...row) => {
    const [, address, one, other] = row;
    const owner = service.as('owner');
    const { headers, body } = expectStatus(await owner.get(address()), 200);
    const ifMatch = headers['etag'] ?? '';
    const answers = await Promise.all([
      owner.patch(address(), one, { ifMatch }),
      service.as('dispatcher').get(address()),
      owner.patch(address(), other, { ifMatch }),
    ]);
    const changes = [answers[0], answers[2]];
    expect(changes.map(({ status }) => status).sort()).toEqual([200, 412]);
    const winner = changes.find(({ status }) => status === 200);
    const now = await owner.get(address());
    expect(now.body).toEqual(winner?.body);
    expect(now.body.version).toBe(body.version + 1);
    const entries = await service.owner.query(
      "SELECT count(*)::int AS rows FROM journal_entry WHERE subject_id = $1 AND event LIKE '%.changed'",
      [body.id],
    );
    expect(entries.rows[0].rows).toBe(1);
  });

  it('of a visit: it starts once', async () => {
    const next = await bookJob(service);
    const technician = service.as('technician');
    const start = () =>
      technician.post(`/v1/visits/${next.visitId}/start-travel`, {}, { ifMatch: next.visitTag });
    const answers = await Promise.all([start(), start(), start()]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412]);
  });
});

describe('who has the present version already is told so', () => {
  const versioned = [
    ['customer', () => `/v1/customers/${job.customerId}`],
    ['site', () => `/v1/sites/${job.siteId}`],
    ['machine', () => `/v1/equipment/${job.outdoorId}`],
    ['ticket', () => `/v1/tickets/${job.ticketId}`],
    ['visit', () => `/v1/visits/${job.visitId}`],
    ['quote', () => `/v1/quotes/${quote.body.id}`],
    ['paper', () => `/v1/quotes/${quote.body.id}/paper`],
  ] as const;

  it.each(versioned)('by 304 without a body: %s', async (_, address) => {
    const client = service.as('technician');
    const etag = expectStatus(await client.get(address()), 200).headers['etag'] ?? '';
    for (const header of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const unchanged = expectStatus(await client.get(address(), { 'if-none-match': header }), 304);
      expect(unchanged.text).toBe('');
      expect(unchanged.headers['etag']).toBe(etag);
    }
    expectStatus(await client.get(address(), { 'if-none-match': '"other"' }), 200);
  });

  it('and gets a site again when it has a new system', async () => {
    const client = service.as('technician');
    const address = `/v1/sites/${job.siteId}`;
    const etag = (await client.get(address)).headers['etag'] ?? '';
    expectStatus(await client.post(`${address}/systems`, { name: 'Upstairs' }), 201);
    const again = expectStatus(await client.get(address, { 'if-none-match': etag }), 200);
    expect(again.body.systems.map(({ name }: { name: string }) => name)).toEqual([
      'Main floor',
      'Upstairs',
    ]);
  });

  it('and gets a quote again when it has expired, although nobody changed it', async () => {
    const client = service.as('technician');
    const address = `/v1/quotes/${quote.body.id}`;
    const present = await client.get(address);
    const until = new Date(present.body.validUntil);
    service.clock.set(until.toISOString());
    const etag = present.headers['etag'] ?? '';
    const again = expectStatus(await client.get(address, { 'if-none-match': etag }), 200);
    expect(again.body.expired).toBe(true);
  });
});
