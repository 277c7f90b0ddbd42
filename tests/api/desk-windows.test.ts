import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, arriveAtJob, bookJob } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('an arrival window', () => {
  // The clock stands at 2026-07-14T18:00:00Z, a Tuesday at one in the afternoon locally.
  const windows = [
    ['an hour ago', '2026-07-14T15:00:00Z', '2026-07-14T17:00:00Z', 'must be in the future'],
    [
      'ending this instant',
      '2026-07-14T16:00:00Z',
      '2026-07-14T18:00:00Z',
      'must be in the future',
    ],
    ['ending before it starts', '2026-07-15T18:00:00Z', '2026-07-15T17:00:00Z', /at least 15 min/],
    ['of no length', '2026-07-15T18:00:00Z', '2026-07-15T18:00:00Z', /at least 15 minutes/],
    ['of 14 minutes', '2026-07-15T18:00:00Z', '2026-07-15T18:14:59Z', /at least 15 minutes/],
    ['of more than a day', '2026-07-15T18:00:00Z', '2026-07-16T18:00:01Z', /within a day/],
  ] as const;
  it.each(windows)('%s is refused at its end', async (_, windowStart, windowEnd, message) => {
    const { siteId } = await addSite(service);
    const dispatcher = service.as('dispatcher');
    const ticket = await dispatcher.post('/v1/tickets', { siteId, complaint: 'Warm air.' });
    const refused = await dispatcher.post('/v1/visits', {
      ticketId: ticket.body.id,
      technicianId: service.staff.technician.id,
      windowStart,
      windowEnd,
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    });
    expectProblem(expectStatus(refused, 400), 'validation-failed');
    expect(refused.body.errors).toEqual([
      expect.objectContaining({
        pointer: '/windowEnd',
        message: typeof message === 'string' ? message : expect.stringMatching(message),
      }),
    ]);
  });

  it('that has begun can still be booked, and one of a quarter of an hour too', async () => {
    const at = (windowStart: string, windowEnd: string) =>
      bookJob(service, undefined, { windowStart, windowEnd });
    await at('2026-07-14T17:00:00Z', '2026-07-14T18:00:01Z');
    await at('2026-07-14T19:00:00Z', '2026-07-14T19:15:00Z');
  });
});

describe('why a visit came to nothing', () => {
  it.each([
    { verb: 'report-no-access', of: arriveAtJob, state: 'no_access' },
    { verb: 'cancel', of: bookJob, state: 'cancelled' },
  ])('is kept with the visit ($state), and says nothing about the ticket', async (end) => {
    const job = await end.of(service);
    const owner = service.as('owner');
    const visit = `/v1/visits/${job.visitId}`;
    expect((await owner.get(visit)).body.endNote).toBeNull();
    const reason = 'Nobody opened; the dog did.';
    const ended = await owner.post(`${visit}/${end.verb}`, { reason }, { ifMatch: job.visitTag });
    expectStatus(ended, 200);
    expect((await owner.get(visit)).body).toMatchObject({ state: end.state, endNote: reason });
    const ticket = await owner.get(`/v1/tickets/${job.ticketId}`);
    expect(ticket.body).toMatchObject({ state: 'new', closingNote: null });
  });
});
