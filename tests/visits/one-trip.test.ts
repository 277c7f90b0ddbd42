import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addSite, bookJob, freeWindow, type Job, type Site } from '../harness/job.ts';
import { openDays } from '../harness/open-days.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/*
 * From the invented price book: regular hours 8,900, after hours 12,900. Somebody is at two tickets
 * of one site before and after work elsewhere, in windows so wide that the work may change places.
 */
const REGULAR = 8_900;
const AFTER_HOURS = 12_900;
const HOUR = 3_600_000;

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

const utc = (at: number) => new Date(at).toISOString();

/** Eight hours of a weekday of its own, from nine in the morning. */
function wideWindow(): { windowStart: string; windowEnd: string } {
  const start = Date.parse(freeWindow().windowStart) - 4 * HOUR;
  return { windowStart: utc(start), windowEnd: utc(start + 8 * HOUR) };
}

async function visitAt(id: string) {
  return expectStatus(await service.as('dispatcher').get(`/v1/visits/${id}`), 200).body;
}

interface Booked {
  site: Site;
  window: { windowStart: string; windowEnd: string };
  /** Hours after the start of the window. */
  at: number;
  toldFeeCents?: number;
}

/** Work of an hour, planned so many hours after the start of its window. */
async function bookAt({ site, window, at, toldFeeCents = REGULAR }: Booked): Promise<Job> {
  const ticket = await service
    .as('dispatcher')
    .post('/v1/tickets', { siteId: site.siteId, complaint: 'It does not cool.' });
  const { id: ticketId } = expectStatus(ticket, 201).body;
  const visit = await service.as('dispatcher').post('/v1/visits', {
    ...{ ticketId, technicianId: service.staff.technician.id, ...window },
    planned: { start: utc(Date.parse(window.windowStart) + at * HOUR), minutes: 60 },
    feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
  });
  const { body, headers } = expectStatus(visit, 201);
  return { ...site, ticketId, visitId: body.id, visitTag: headers['etag'] ?? '' };
}

async function plan(visitId: string, at: number) {
  const { windowStart, version } = await visitAt(visitId);
  const planned = { start: utc(Date.parse(windowStart) + at * HOUR), minutes: 60 };
  const path = `/v1/visits/${visitId}/plan`;
  return service.as('dispatcher').patch(path, { planned }, { ifMatch: `"v${version}"` });
}

async function act(visitId: string, verb: string, body: object) {
  const { version } = await visitAt(visitId);
  const path = `/v1/visits/${visitId}/${verb}`;
  return service.as('dispatcher').post(path, body, { ifMatch: `"v${version}"` });
}

/** Two calls at one site with work elsewhere between them, each with its fee. */
async function parted() {
  const window = wideWindow();
  const site = await addSite(service);
  const elsewhere = await bookAt({ site: await addSite(service), window, at: 2 });
  const first = await bookAt({ site, window, at: 0 });
  const second = await bookAt({ site, window, at: 4 });
  return { window, site, elsewhere, first, second };
}

const feesOf = async (...jobs: Job[]) => {
  const visits = await Promise.all(jobs.map(({ visitId }) => visitAt(visitId)));
  return visits.map(({ feeCents, sameTripAs }) => [feeCents, sameTripAs]);
};

const reason = { reason: 'It was said by phone.' };

describe('two trips that become one', () => {
  it.each([
    ['the work in between is planned for later', (id: string) => plan(id, 6)],
    ['the work in between is cancelled', (id: string) => act(id, 'cancel', reason)],
    [
      'the work in between is given to another',
      (id: string) => {
        const technicianId = service.staff.second_technician.id;
        return act(id, 'rebook', { technicianId, askedBy: 'company', ...reason });
      },
    ],
  ])('where %s: the later loses its fee and rests on that of the other', async (_, change) => {
    const { elsewhere, first, second } = await parted();
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [REGULAR, null],
    ]);
    const { status } = await change(elsewhere.visitId);
    expect([200, 201]).toContain(status);
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [0, first.visitId],
    ]);
    const { rows } = await service.owner.query(
      `SELECT changes::json AS changes FROM journal_entry
       WHERE event = 'visit.joined' AND subject_id = $1`,
      [second.visitId],
    );
    expect(rows).toEqual([
      {
        changes: expect.objectContaining({
          before: { sameTripAs: null, feeCents: REGULAR, feeAgreement: null },
          after: { sameTripAs: first.visitId, feeCents: 0, feeAgreement: null },
        }),
      },
    ]);
  });

  it('where the later of them is planned before the work in between, whoever is later then', async () => {
    const { first, second } = await parted();
    const now = expectStatus(await plan(second.visitId, 1), 200).body;
    expect(now).toMatchObject({ feeCents: 0, sameTripAs: first.visitId, version: 3 });
    const other = await parted();
    expectStatus(await plan(other.first.visitId, 6), 200);
    expect(await feesOf(other.first, other.second)).toEqual([
      [0, other.second.visitId],
      [REGULAR, null],
    ]);
  });

  it('and a third that rested on the fee of the later rests on that of the earlier', async () => {
    const { window, site, elsewhere, first, second } = await parted();
    const third = await bookAt({ site, window, at: 5, toldFeeCents: 0 });
    expect((await visitAt(third.visitId)).sameTripAs).toBe(second.visitId);
    expectStatus(await plan(elsewhere.visitId, 7), 200);
    expect(await feesOf(first, second, third)).toEqual([
      [REGULAR, null],
      [0, first.visitId],
      [0, first.visitId],
    ]);
  });

  it('where somebody has arrived for the later, the earlier loses its fee', async () => {
    const { elsewhere, first, second } = await parted();
    for (const verb of ['start-travel', 'arrive']) {
      expectStatus(await act(second.visitId, verb, {}), 200);
    }
    expectStatus(await plan(elsewhere.visitId, 6), 200);
    expect(await feesOf(first, second)).toEqual([
      [0, second.visitId],
      [REGULAR, null],
    ]);
  });

  it('where somebody has arrived for both, each keeps what was told', async () => {
    const { elsewhere, first, second } = await parted();
    for (const { visitId } of [first, second]) {
      expectStatus(await act(visitId, 'start-travel', {}), 200);
      expectStatus(await act(visitId, 'arrive', {}), 200);
    }
    expectStatus(await plan(elsewhere.visitId, 6), 200);
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [REGULAR, null],
    ]);
  });

  it('is not one where somebody else is elsewhere in between, or it is another day', async () => {
    const { window, elsewhere, first, second } = await parted();
    await bookAt({ site: await addSite(service), window, at: 3 });
    expectStatus(await act(elsewhere.visitId, 'cancel', reason), 200);
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [REGULAR, null],
    ]);
  });
});

/** A plan of the day that says this and nothing else, resting on the day as it is. */
async function usePlan(day: string, says: { shifted?: object[]; reassigned?: object[] }) {
  const proposed = await service.as('dispatcher').post(`/v1/days/${day}/plans`);
  const content = {
    ...{ shifted: [], reassigned: [], placed: [], leftOut: [], late: [], withoutBase: [] },
    ...{ travelMinutes: { before: 0, after: 0 }, ...says },
  };
  const { rows } = await service.owner.query(
    `INSERT INTO day_plan (id, day, rests_on, content, created_at, created_by_id)
     SELECT gen_random_uuid(), day, rests_on, $2, created_at, created_by_id
     FROM day_plan WHERE id = $1 RETURNING id`,
    [expectStatus(proposed, 201).body.id, JSON.stringify(content)],
  );
  return service.as('dispatcher').post(`/v1/day-plans/${rows[0].id}/use`);
}

async function planned(visitId: string, hours = 0) {
  const { planned: before, technicianId } = await visitAt(visitId);
  const start = (at: string, more = 0) => utc(Date.parse(at) + more * HOUR);
  return {
    ...{ visitId, technicianId, before: { start: before.start, minutes: 60 } },
    planned: { start: start(before.start, hours), minutes: 60 },
  };
}

const given = async (visitId: string) => ({
  ...(await planned(visitId)),
  technicianId: service.staff.second_technician.id,
  fromTechnicianId: service.staff.technician.id,
});

describe('work elsewhere in between parts a trip, whenever its own window begins', () => {
  it.each([
    ['an hour before', -1, REGULAR],
    ['an hour after', 1, REGULAR],
    ['the evening before', -20, AFTER_HOURS],
  ])('%s', async (_, hours, toldFeeCents) => {
    const window = wideWindow();
    const start = Date.parse(window.windowStart) + 4 * HOUR;
    const later = { windowStart: utc(start), windowEnd: window.windowEnd };
    const own = { windowStart: utc(start + hours * HOUR), windowEnd: window.windowEnd };
    const site = await addSite(service);
    const first = await bookAt({ site, window, at: 0 });
    const at = 1.5 - hours;
    await bookAt({ site: await addSite(service), window: own, at, toldFeeCents });
    const second = await bookAt({ site, window: later, at: 3 });
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [REGULAR, null],
    ]);
  });
});

describe('a plan of the day', () => {
  async function together() {
    const window = wideWindow();
    const site = await addSite(service);
    const first = await bookAt({ site, window, at: 0 });
    const second = await bookAt({ site, window, at: 4, toldFeeCents: 0 });
    return { day: window.windowStart.slice(0, 10), first, second };
  }

  it('gives a trip away whole, with its one fee', async () => {
    const { day, first, second } = await together();
    const reassigned = [await given(second.visitId), await given(first.visitId)];
    const used = expectStatus(await usePlan(day, { reassigned }), 200).body;
    const inPlaceOf = (job: Job) =>
      used.visits.find(({ movedFromId }: { movedFromId: string }) => movedFromId === job.visitId);
    const withFee = await visitAt(inPlaceOf(first).visitId);
    const along = await visitAt(inPlaceOf(second).visitId);
    const technicianId = service.staff.second_technician.id;
    const asked = { technicianId, moveAskedBy: 'company', state: 'booked' };
    expect(withFee).toMatchObject({ ...asked, feeCents: REGULAR, sameTripAs: null });
    expect(along).toMatchObject({ ...asked, feeCents: 0, sameTripAs: withFee.id });
  });

  it('does not give the fee of a trip away while another visit stays on it', async () => {
    const { day, first, second } = await together();
    const refused = await usePlan(day, { reassigned: [await given(first.visitId)] });
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect((await visitAt(second.visitId)).state).toBe('booked');
    expect((await visitAt(first.visitId)).state).toBe('booked');
  });

  it('that makes one trip of two takes the fee of the later off', async () => {
    const { window, elsewhere, first, second } = await parted();
    const shifted = [await planned(elsewhere.visitId, 4)];
    expectStatus(await usePlan(window.windowStart.slice(0, 10), { shifted }), 200);
    expect(await feesOf(first, second)).toEqual([
      [REGULAR, null],
      [0, first.visitId],
    ]);
  });
});

describe('a trip that is parted by a plan', () => {
  it('keeps its promise: nobody is told a fee anew, also where it becomes one again', async () => {
    const window = wideWindow();
    const site = await addSite(service);
    const first = await bookAt({ site, window, at: 0 });
    const second = await bookAt({ site, window, at: 4, toldFeeCents: 0 });
    const elsewhere = await bookAt({ site: await addSite(service), window, at: 6 });
    const asTold = [
      [REGULAR, null],
      [0, first.visitId],
    ];
    for (const at of [2, 6]) {
      expectStatus(await plan(elsewhere.visitId, at), 200);
      expect(await feesOf(first, second)).toEqual(asTold);
    }
  });
});

describe('a night', () => {
  const site = () => addSite(service);
  const told = async (place: Site, windowStart: string, windowEnd: string) => {
    const technicianId = service.staff.technician.id;
    const query = new URLSearchParams({
      siteId: place.siteId,
      technicianId,
      windowStart,
      windowEnd,
    });
    return expectStatus(await service.as('dispatcher').get(`/v1/visit-fee?${query}`), 200).body;
  };
  const until = { windowStart: '2026-08-11T03:00:00Z', windowEnd: '2026-08-11T05:00:00Z' };
  const after = { windowStart: '2026-08-11T05:00:00Z', windowEnd: '2026-08-11T07:00:00Z' };

  it('is one trip over midnight, whichever half of it is booked first', async () => {
    const place = await site();
    const first = await bookJob(service, place, { ...until, toldFeeCents: AFTER_HOURS });
    const { sameTripAs } = await told(place, after.windowStart, after.windowEnd);
    expect(sameTripAs.visitId).toBe(first.visitId);
    const second = await bookJob(service, place, { ...after, toldFeeCents: 0 });
    // And on from there, where the first is two windows away.
    const third = { windowStart: '2026-08-11T07:00:00Z', windowEnd: '2026-08-11T08:00:00Z' };
    const last = await bookJob(service, place, { ...third, toldFeeCents: 0 });
    for (const { visitId } of [second, last]) {
      expect(await visitAt(visitId)).toMatchObject({ feeCents: 0, sameTripAs: first.visitId });
    }
  });

  it('is told so too for the window before midnight, where its end is said', async () => {
    const place = await site();
    const day = (instant: string) => utc(Date.parse(instant) + 24 * HOUR);
    const second = { windowStart: day(after.windowStart), windowEnd: day(after.windowEnd) };
    const { visitId } = await bookJob(service, place, { ...second, toldFeeCents: AFTER_HOURS });
    const start = day(until.windowStart);
    expect((await told(place, start, day(until.windowEnd))).sameTripAs.visitId).toBe(visitId);
    const early = utc(Date.parse(start) + 1.75 * HOUR);
    expect(await told(place, start, early)).toMatchObject({ sameTripAs: null });
  });

  it('is two where the technician goes home in between', async () => {
    const place = await site();
    const week = (instant: string, minutes = 0) =>
      utc(Date.parse(instant) + 7 * 24 * HOUR + minutes * 60_000);
    const first = { windowStart: week(until.windowStart), windowEnd: week(until.windowEnd) };
    await bookJob(service, place, { ...first, toldFeeCents: AFTER_HOURS });
    const { sameTripAs } = await told(place, week(after.windowStart, 1), week(after.windowEnd));
    expect(sameTripAs).toBeNull();
  });

  it('that is closed by a visit in the middle is one trip with one fee', async () => {
    const place = await site();
    const week = (instant: string) => utc(Date.parse(instant) + 14 * 24 * HOUR);
    const window = (start: string, end: string) => ({
      windowStart: week(start),
      windowEnd: week(end),
    });
    const evening = window('2026-08-11T01:00:00Z', until.windowStart);
    const first = await bookJob(service, place, { ...evening, toldFeeCents: AFTER_HOURS });
    const late = window(after.windowStart, after.windowEnd);
    const last = await bookJob(service, place, { ...late, toldFeeCents: AFTER_HOURS });
    const middle = window(until.windowStart, until.windowEnd);
    const between = await bookJob(service, place, { ...middle, toldFeeCents: 0 });
    expect(await feesOf(first, between, last)).toEqual([
      [AFTER_HOURS, null],
      [0, first.visitId],
      [0, first.visitId],
    ]);
  });
});

describe('of one who gives a trip away and one who books on it at the same time', () => {
  it('neither leaves a visit behind: it goes along, or its fee is told anew', async () => {
    for (let round = 0; round < 4; round += 1) {
      const window = wideWindow();
      const site = await addSite(service);
      const first = await bookAt({ site, window, at: 0 });
      const ticket = { siteId: site.siteId, complaint: 'Upstairs is loud.' };
      const opened = await service.as('dispatcher').post('/v1/tickets', ticket);
      const { id: ticketId } = expectStatus(opened, 201).body;
      const start = utc(Date.parse(window.windowStart) + 2 * HOUR);
      const booking = {
        ...{ ticketId, technicianId: service.staff.technician.id, ...window },
        planned: { start, minutes: 60 },
        feeDisclosure: { toldFeeCents: 0, agreedBy: 'Winifred Ashgrove' },
      };
      const technicianId = service.staff.second_technician.id;
      const [gave, booked] = await Promise.all([
        act(first.visitId, 'rebook', { technicianId, askedBy: 'company', ...reason }),
        service.as('dispatcher').post('/v1/visits', booking),
      ]);
      const along = expectStatus(gave, 201).body.movedAlong;
      if (booked.status === 201) {
        const movedFromId = booked.body.id;
        expect(along).toEqual([{ ticketId, movedFromId, visitId: expect.any(String) }]);
        const now = { technicianId, feeCents: 0, sameTripAs: gave.body.id };
        expect(await visitAt(along[0].visitId)).toMatchObject(now);
      } else {
        expectProblem(expectStatus(booked, 409), 'visit-fee-differs');
        expect(booked.body.feeCents).toBe(REGULAR);
        expect(along).toEqual([]);
      }
    }
  });
});

describe('a trip whose first visit is over', () => {
  it('goes on from the next: whoever is still there for another call is on it', async () => {
    const window = wideWindow();
    const site = await addSite(service);
    const at = (hours: number) => utc(Date.parse(window.windowStart) + hours * HOUR);
    const short = (from: number) => ({ windowStart: at(from), windowEnd: at(from + 2) });
    const first = await bookJob(service, site, short(0));
    const second = await bookJob(service, site, { ...short(2), toldFeeCents: 0 });
    service.clock.set(at(0));
    expectStatus(await act(first.visitId, 'start-travel', {}), 200);
    expectStatus(await act(first.visitId, 'arrive', {}), 200);
    expectStatus(await act(first.visitId, 'finish', { ticketIs: 'work_complete' }), 200);
    const third = await bookJob(service, site, { ...short(4), toldFeeCents: 0 });
    expect(await feesOf(second, third)).toEqual([
      [0, first.visitId],
      [0, first.visitId],
    ]);
    expectProblem(await act(first.visitId, 'cancel', reason), 'not-allowed-now');
  });
});
