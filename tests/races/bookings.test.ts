import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, freeWindow } from '../harness/job.ts';
import { openDays } from '../harness/open-days.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

/** How many rounds; ROUNDS=100 is the long run. */
const ROUNDS = Number(process.env['ROUNDS'] ?? 20);
const CALLERS = 30;

let service: TestService;
let tickets: string[];
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  const { siteId } = await addSite(service);
  const opened = Array.from({ length: CALLERS }, () =>
    service.as('dispatcher').post('/v1/tickets', { siteId, complaint: 'It does not cool.' }),
  );
  tickets = (await Promise.all(opened)).map((answer) => expectStatus(answer, 201).body.id);
});
afterAll(() => service.close());

describe('a technician is never in two places', () => {
  it(`of ${CALLERS} who book one window at once, one gets it and the rest are told what is free near it`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const window = freeWindow();
      const answers = await Promise.all(tickets.map((ticketId) => book(ticketId, window)));
      const statuses = answers.map(({ status }) => status).sort();
      expect(statuses).toEqual([201, ...Array<number>(CALLERS - 1).fill(409)]);
      const refusals = answers.filter(({ status }) => status === 409);
      expect(new Set(refusals.map(({ body }) => body.code))).toEqual(new Set(['window-taken']));
      for (const { body } of refusals) {
        expect(body.nearestFree).toHaveLength(3);
        expect(body.nearestFree[0]).toMatchObject({
          technicianId: service.staff.second_technician.id,
          windowStart: new Date(window.windowStart).toISOString(),
        });
      }

      // The winner's ticket is freed for the next round; the losers' were never touched.
      const winner = answers.find(({ status }) => status === 201);
      const cancelled = await service
        .as('dispatcher')
        .post(
          `/v1/visits/${winner?.body.id}/cancel`,
          { reason: 'Next round.' },
          { ifMatch: winner?.headers['etag'] ?? '' },
        );
      expectStatus(cancelled, 200);
    }
    const states = await service.owner.query(
      "SELECT count(*)::int AS n FROM ticket WHERE state <> 'new'",
    );
    expect(states.rows).toEqual([{ n: 0 }]);
    const visits = await service.owner.query('SELECT count(*)::int AS n FROM visit');
    expect(visits.rows).toEqual([{ n: ROUNDS }]);
    await expectOneEntryPerBooking();
    await expectNoDeadlock();
  }, 600_000);

  it('windows that only touch are both booked, one second of overlap is not', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const [first, second, third] = tickets;
    expectStatus(await book(first, { windowStart, windowEnd }), 201);
    const touching = { windowStart: windowEnd, windowEnd: plus(windowEnd, 3_600_000) };
    expectStatus(await book(second, touching, 0), 201);
    const overlapping = {
      windowStart: plus(windowStart, -3_600_000),
      windowEnd: plus(windowStart, 1_000),
    };
    const refused = await book(third, overlapping);
    expect([refused.status, refused.body.code]).toEqual([409, 'window-taken']);
  });

  it('of two who book one trip at once one tells its fee, and the other learns that there is one', async () => {
    for (let round = 0; round < 5; round += 1) {
      const { siteId } = await addSite(service);
      const { windowStart, windowEnd } = freeWindow();
      const after = { windowStart: windowEnd, windowEnd: plus(windowEnd, 3_600_000) };
      const both = await Promise.all(
        [{ windowStart, windowEnd }, after].map(async (window) => {
          const opened = await service
            .as('dispatcher')
            .post('/v1/tickets', { siteId, complaint: 'It does not cool.' });
          return book(expectStatus(opened, 201).body.id, window);
        }),
      );
      const [booked, refused] = both.sort((a, b) => a.status - b.status);
      expect([booked?.status, refused?.status]).toEqual([201, 409]);
      expect(refused?.body).toMatchObject({
        code: 'visit-fee-differs',
        feeCents: 0,
        sameTripAs: booked?.body.id,
      });
    }
  });

  it(`one ticket booked by ${CALLERS} at once, each with a window of its own, has one visit`, async () => {
    const { siteId } = await addSite(service);
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId, complaint: 'It does not cool.' });
    const ticketId = expectStatus(opened, 201).body.id;
    const answers = await Promise.all(
      Array.from({ length: CALLERS }, () => book(ticketId, freeWindow())),
    );
    expect(answers.filter(({ status }) => status === 201)).toHaveLength(1);
    for (const refused of answers.filter(({ status }) => status !== 201)) {
      expect(refused.body).toMatchObject({ code: 'not-allowed-now', currentState: 'scheduled' });
    }
    const visits = await service.owner.query(
      'SELECT count(*)::int AS n FROM visit WHERE ticket_id = $1',
      [ticketId],
    );
    expect(visits.rows).toEqual([{ n: 1 }]);
  });
});

function book(
  ticketId: string | undefined,
  window: { windowStart: string; windowEnd: string },
  toldFeeCents = 8_900,
) {
  return service.as('dispatcher').post('/v1/visits', {
    ticketId,
    technicianId: service.staff.technician.id,
    ...window,
    feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
  });
}

function plus(instant: string, milliseconds: number): string {
  return new Date(Date.parse(instant) + milliseconds).toISOString();
}

async function expectOneEntryPerBooking(): Promise<void> {
  const odd = await service.owner.query(
    `SELECT v.id FROM visit v LEFT JOIN journal_entry e
       ON e.event = 'visit.booked' AND e.subject_id = v.id::text
     GROUP BY v.id HAVING count(e.id) <> 1`,
  );
  expect(odd.rows).toEqual([]);
}

/** The server counts them; a retry would hide one. */
async function expectNoDeadlock(): Promise<void> {
  const { rows } = await service.owner.query(
    'SELECT deadlocks::int FROM pg_stat_database WHERE datname = current_database()',
  );
  expect(rows).toEqual([{ deadlocks: 0 }]);
}
