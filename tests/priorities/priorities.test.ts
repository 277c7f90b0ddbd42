import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite } from '../harness/job.ts';
import { sendAnswer, startChecks } from '../harness/phone-checks.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const dispatcherName = 'Desmond Quillon';
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

async function call(change: object = {}): Promise<string> {
  const { siteId } = await addSite(service);
  const body = { siteId, complaint: 'Warm air.', symptoms: ['no_cooling'], ...change };
  const opened = await service.as('dispatcher').post('/v1/tickets', body);
  return expectStatus(opened, 201).body.id;
}

async function priorityOf(ticketId: string) {
  const answer = await service.as('dispatcher').get(`/v1/tickets/${ticketId}/priority`);
  return expectStatus(answer, 200).body;
}

function rank(ticketId: string, body: object) {
  return service.as('dispatcher').post(`/v1/tickets/${ticketId}/priority`, body);
}

describe('how urgent a ticket is', () => {
  it('is told in a sentence with its figures', async () => {
    const ticketId = await call();
    expect(await priorityOf(ticketId)).toMatchObject({
      ticketId,
      rank: 3,
      sentence: 'No cooling; waiting 0 min.',
      byRules: { rank: 3 },
      byHand: null,
      waitingSince: service.clock.now().toISOString(),
    });
  });

  it('counts the heat of the day where nobody told how hot it is indoors', async () => {
    const ticketId = await call();
    const day = service.clock.now().toISOString().slice(0, 10);
    const weather = { highDegF: 94, relativeHumidityPercent: 80 };
    const noted = await service.as('dispatcher').post(`/v1/days/${day}/weather`, weather);
    // National Weather Service: 94 F at 80 % feels like 129 F.
    expect(expectStatus(noted, 200).body).toEqual({
      ...{ day, ...weather, feelsLikeDegF: 129, category: 'extreme_danger' },
    });
    expect(await priorityOf(ticketId)).toMatchObject({
      rank: 2,
      sentence: 'No cooling and outdoors it feels like 129 °F; waiting 0 min.',
    });
    const milder = await service.as('dispatcher').post(`/v1/days/${day}/weather`, { highDegF: 75 });
    expect(expectStatus(milder, 200).body).toMatchObject({
      ...{ relativeHumidityPercent: null, feelsLikeDegF: 75, category: 'none' },
    });
    expect((await priorityOf(ticketId)).rank).toBe(3);
    const read = await service.as('dispatcher').get(`/v1/days/${day}/weather`);
    expect(expectStatus(read, 200).body.highDegF).toBe(75);
  });

  it('of a day that nobody noted nothing is said', async () => {
    const read = await service.as('dispatcher').get('/v1/days/2031-01-01/weather');
    expectProblem(read, 'not-found');
  });

  it('comes before all where the phone told of danger', async () => {
    const ticketId = await call();
    expectStatus(await startChecks(service, ticketId), 201);
    expectStatus(await sendAnswer(service, ticketId, ['gas_smell', 'yes']), 200);
    const told = await priorityOf(ticketId);
    expect(told.rank).toBe(1);
    expect(told.sentence).toMatch(/^Danger: gas; nobody goes before it is safe/);
  });

  it('a danger is not put back by hand, whoever ranked it before', async () => {
    const ticketId = await call();
    expectStatus(await rank(ticketId, { rank: 5, reason: 'Away till Monday.' }), 200);
    expectStatus(await startChecks(service, ticketId), 201);
    expectStatus(await sendAnswer(service, ticketId, ['gas_smell', 'yes']), 200);
    const told = await priorityOf(ticketId);
    expect(told.rank).toBe(1);
    expect(told.sentence).toMatch(/^Danger: gas/);
    expect(told.byHand).toMatchObject({ rank: 5 });
  });

  it('is given by hand with the reason, and given back to the rules', async () => {
    const ticketId = await call({ symptoms: ['noise'] });
    const given = await rank(ticketId, { rank: 1, reason: 'A wedding tomorrow.' });
    expect(expectStatus(given, 200).body).toMatchObject({
      rank: 1,
      byRules: { rank: 4 },
      byHand: { rank: 1, reason: 'A wedding tomorrow.', byName: dispatcherName },
    });
    expect(given.body.sentence).toContain(
      'A wedding tomorrow. By the rules: Nothing says that it is down',
    );
    const lifted = await rank(ticketId, { rank: null, reason: 'Put off.' });
    expect(expectStatus(lifted, 200).body).toMatchObject({ rank: 4, byHand: null });
  });

  it.each([{ rank: 0 }, { rank: 6 }, { rank: 1, reason: ' ' }])('refuses %j', async (body) => {
    const refused = await rank(await call(), { reason: 'Because.', ...body });
    expectProblem(refused, 'validation-failed');
  });

  it('is not given to a ticket that is over', async () => {
    const ticketId = await call();
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${ticketId}`);
    const cancel = { reason: 'Called off.' };
    const ifMatch = { ifMatch: ticket.headers['etag'] ?? '' };
    expectStatus(
      await service.as('dispatcher').post(`/v1/tickets/${ticketId}/cancel`, cancel, ifMatch),
      200,
    );
    const refused = await rank(ticketId, { rank: 1, reason: 'Too late.' });
    expectProblem(refused, 'not-allowed-now');
  });
});

describe('who waits', () => {
  it('has a fresh danger at the top, however many wait longer', async () => {
    const fresh = await createTestService();
    try {
      const site = await addSite(fresh);
      const body = { siteId: site.siteId, complaint: 'Warm air.', symptoms: ['noise'] };
      const old = expectStatus(await fresh.as('dispatcher').post('/v1/tickets', body), 201);
      await fresh.owner.query(
        `INSERT INTO ticket (id, site_id, caller_id, complaint, symptoms, created_at, created_by_id)
         SELECT gen_random_uuid(), site_id, caller_id, 'Old.', symptoms,
           created_at - interval '1 hour', created_by_id
         FROM ticket, generate_series(1, 1100) WHERE id = $1`,
        [old.body.id],
      );
      const opened = await fresh.as('dispatcher').post('/v1/tickets', body);
      const ticketId = expectStatus(opened, 201).body.id;
      expectStatus(await startChecks(fresh, ticketId), 201);
      expectStatus(await sendAnswer(fresh, ticketId, ['gas_smell', 'yes']), 200);
      const { body: waiting } = await fresh.as('dispatcher').get('/v1/waiting?limit=1');
      expect(waiting.items[0]).toMatchObject({ ticketId, rank: 1 });
      expect([waiting.waiting, waiting.weighed]).toEqual([1_102, 1_001]);
    } finally {
      await fresh.close();
    }
  });

  it('stands in the order of urgency, the older call first, and says how many there are', async () => {
    const fresh = await createTestService();
    try {
      const dispatcher = fresh.as('dispatcher');
      const { siteId } = await addSite(fresh);
      const open = async (symptoms: string[]) => {
        const body = { siteId, complaint: 'It is broken.', symptoms };
        return expectStatus(await dispatcher.post('/v1/tickets', body), 201).body.id;
      };
      const noise = await open(['noise']);
      const first = await open(['no_cooling']);
      const second = await open(['no_cooling']);
      const byHand = await open(['noise']);
      const given = await dispatcher.post(`/v1/tickets/${byHand}/priority`, {
        ...{ rank: 2, reason: 'An old friend.' },
      });
      expectStatus(given, 200);
      const { body } = await dispatcher.get('/v1/waiting');
      expect(body.items.map(({ ticketId }: { ticketId: string }) => ticketId)).toEqual([
        ...[byHand, first, second, noise],
      ]);
      expect([body.waiting, body.weighed]).toEqual([4, 4]);
      const one = await dispatcher.get('/v1/waiting?limit=1');
      expect([one.body.items.length, one.body.waiting]).toEqual([1, 4]);
    } finally {
      await fresh.close();
    }
  });
});
