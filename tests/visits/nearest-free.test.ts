import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, bookJob } from '../harness/job.ts';
import { openDays } from '../harness/open-days.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

// Tuesday, one in the afternoon locally; July is five hours behind.
const NOW = '2026-07-14T18:00:00Z';
const TEN_TO_NOON = { windowStart: '2026-07-20T15:00:00Z', windowEnd: '2026-07-20T17:00:00Z' };

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  service.clock.set(NOW);
});
afterAll(() => service.close());

async function bookingOf(window: object, more: object = {}) {
  const { siteId } = await addSite(service);
  const ticket = await service
    .as('dispatcher')
    .post('/v1/tickets', { siteId, complaint: 'It does not cool.', symptoms: ['no_cooling'] });
  return {
    ticketId: expectStatus(ticket, 201).body.id,
    technicianId: service.staff.technician.id,
    ...window,
    feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    ...more,
  };
}

const book = (body: object) => service.as('dispatcher').post('/v1/visits', body);

describe('who is told that a window is taken is told what is free near it', () => {
  it('three at most, the same window with another technician first, then those of the same technician', async () => {
    await bookJob(service, undefined, TEN_TO_NOON);
    const wanted = await bookingOf(TEN_TO_NOON);
    const refused = expectProblem(expectStatus(await book(wanted), 409), 'window-taken');
    const free = refused.body.nearestFree;
    expect(free).toHaveLength(3);
    const starts = free.map(({ windowStart }: { windowStart: string }) => windowStart);
    expect(starts).toEqual([
      '2026-07-20T15:00:00.000Z',
      '2026-07-20T13:00:00.000Z',
      '2026-07-20T17:00:00.000Z',
    ]);
    expect(free.map((each: { technicianId: string }) => each.technicianId)).toEqual([
      service.staff.second_technician.id,
      service.staff.technician.id,
      service.staff.technician.id,
    ]);
    expectStatus(await book({ ...wanted, ...free[0] }), 201);
  });

  it('unless the ticket itself is booked: then that is what stands in the way', async () => {
    const wanted = await bookingOf({
      windowStart: '2026-07-24T15:00:00Z',
      windowEnd: '2026-07-24T17:00:00Z',
    });
    expectStatus(await book(wanted), 201);
    const { body } = expectProblem(expectStatus(await book(wanted), 409), 'not-allowed-now');
    expect(body).toMatchObject({ currentState: 'scheduled', action: 'book' });
    expect(body.detail).toContain('A visit is booked for this ticket');
    expect(body.nearestFree).toBeUndefined();
  });

  it('and it is told the same again when the request is repeated', async () => {
    const window = { windowStart: '2026-07-21T15:00:00Z', windowEnd: '2026-07-21T17:00:00Z' };
    await bookJob(service, undefined, window);
    const wanted = await bookingOf(window);
    const key = 'once-and-again';
    const first = await service.as('dispatcher').post('/v1/visits', wanted, { key });
    const again = await service.as('dispatcher').post('/v1/visits', wanted, { key });
    expect(again.headers['idempotency-replayed']).toBe('true');
    expect(again.body.nearestFree).toEqual(first.body.nearestFree);
    expect(first.body.nearestFree).toHaveLength(3);
  });

  it('on the next days where that one is full, and nothing where nobody works', async () => {
    const evening = { windowStart: '2026-07-23T01:00:00Z', windowEnd: '2026-07-23T03:00:00Z' };
    for (const who of ['technician', 'second_technician'] as const) {
      const technicianId = service.staff[who].id;
      const whole = { windowStart: '2026-07-22T13:00:00Z', windowEnd: '2026-07-22T23:00:00Z' };
      expectStatus(await book(await bookingOf(whole, { technicianId })), 201);
      const told = { toldFeeCents: 12_900, agreedBy: 'Winifred Ashgrove' };
      const late = await bookingOf(evening, { technicianId, feeDisclosure: told });
      expectStatus(await book(late), 201);
    }
    const feeDisclosure = { toldFeeCents: 12_900, agreedBy: 'Winifred Ashgrove' };
    const refused = await book(await bookingOf(evening, { feeDisclosure }));
    const free = expectProblem(expectStatus(refused, 409), 'window-taken').body.nearestFree;
    expect(free.map(({ windowStart }: { windowStart: string }) => windowStart)).toEqual([
      '2026-07-23T13:00:00.000Z',
      '2026-07-23T13:00:00.000Z',
      '2026-07-23T15:00:00.000Z',
    ]);
  });

  it('also when a visit was to be moved, and that visit itself is in nobody’s way', async () => {
    const window = { windowStart: '2026-07-27T15:00:00Z', windowEnd: '2026-07-27T17:00:00Z' };
    await bookJob(service, undefined, window);
    const other = { windowStart: '2026-07-27T13:00:00Z', windowEnd: '2026-07-27T15:00:00Z' };
    const job = await bookJob(service, undefined, other);
    // With the drive there before it, half of its window has room for the hour once only.
    const planned = { start: '2026-07-27T13:30:00Z', minutes: 60 };
    const plan = await service
      .as('dispatcher')
      .patch(`/v1/visits/${job.visitId}/plan`, { planned }, { ifMatch: job.visitTag });
    const visitTag = expectStatus(plan, 200).headers['etag'] ?? '';
    const asked = {
      ...{ askedBy: 'customer', reason: 'Later is better.', windowAgreedBy: 'Winifred Ashgrove' },
      ...window,
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    };
    const path = `/v1/visits/${job.visitId}/rebook`;
    const refused = await service.as('dispatcher').post(path, asked, { ifMatch: visitTag });
    expectProblem(expectStatus(refused, 409), 'window-taken');
    expect(refused.body.nearestFree).toContainEqual(
      expect.objectContaining({
        technicianId: service.staff.technician.id,
        windowStart: '2026-07-27T13:00:00.000Z',
      }),
    );
  });
});
