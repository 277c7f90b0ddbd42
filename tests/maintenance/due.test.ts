import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { atTime } from '../harness/fixed-clock.ts';
import { lookAfter, sendOpen, setMonths } from '../harness/maintenance.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { ticketAt } from '../harness/work.ts';

// Today is 2026-07-14 on the clock of the company, in Chicago.
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

async function dueAt(now: string, agreementId: string, until?: string): Promise<string[]> {
  const query = until === undefined ? '' : `&until=${until}`;
  return atTime(service.clock, now, async () => {
    const due = await service.as('dispatcher').get(`/v1/maintenance-due?limit=100${query}`);
    return expectStatus(due, 200)
      .body.items.filter((each: { agreementId: string }) => each.agreementId === agreementId)
      .map((each: { dueMonth: string; overdue: boolean }) =>
        each.overdue ? `${each.dueMonth} overdue` : each.dueMonth,
      );
  });
}

const noon = (day: string) => `${day}T18:00:00Z`;

describe('what is due', () => {
  it('is each month of the agreement from its start on, with whom to call', async () => {
    const terms = { startsOn: '2026-03-15', endsOn: '2027-03-15', months: [6, 3, 7, 3] };
    const { agreementId, siteId, customerId } = await lookAfter(service, terms);
    const due = await service.as('owner').get('/v1/maintenance-due?limit=1&until=2026-05');
    expect(expectStatus(due, 200).body).toEqual({
      items: [
        {
          ...{ agreementId, siteId, planCode: 'two_visits', dueMonth: '2026-03', overdue: true },
          ...{
            monthsBehind: 1,
            agreementEnded: false,
            minutes: 60,
            street: '3 Thistle Court',
            city: 'Wrenfield',
          },
          occupant: {
            id: customerId,
            name: 'Winifred Ashgrove',
            phone: '555-0111',
            language: 'en',
          },
        },
      ],
      nextCursor: null,
    });
    expect(await dueAt(noon('2026-07-14'), agreementId)).toEqual([
      ...['2026-06 overdue', '2026-07'],
    ]);
    expect(await dueAt(noon('2026-07-14'), agreementId, '2027-12')).toEqual([
      ...['2026-06 overdue', '2026-07', '2027-03'],
    ]);
    await service
      .as('dispatcher')
      .get('/v1/maintenance-due?until=2026-13')
      .then((refused) => {
        expectProblem(refused, 'validation-failed');
      });
  });

  it.each([
    // The end is the first day the agreement no longer holds.
    [
      'a month of which it holds one day',
      '2026-01-31',
      '2026-03-02',
      ['2026-01', '2026-02', '2026-03'],
    ],
    ['a month that begins when it ends', '2026-02-01', '2026-03-01', ['2026-02']],
    ['a leap day alone', '2028-02-29', '2028-03-01', ['2028-02']],
    ['a turn of the year', '2026-12-31', '2027-01-02', ['2026-12', '2027-01']],
  ])('of %s', async (_, startsOn, endsOn, months) => {
    const terms = { startsOn, endsOn, months: [1, 2, 3, 12] };
    const { agreementId } = await lookAfter(service, terms);
    expect(await dueAt(noon('2026-01-01'), agreementId, '2029-01')).toEqual(months);
  });

  it.each([
    // In July the clock of Chicago is five hours behind UTC, that of Kolkata five and a half ahead.
    ['America/Chicago', '2026-08-01T04:59:00Z', '2026-08-01T05:00:00Z'],
    ['Asia/Kolkata', '2026-07-31T18:29:00Z', '2026-07-31T18:30:00Z'],
  ])('is overdue, and over, at midnight in %s', async (zone, before, after) => {
    await service.owner.query('UPDATE company SET time_zone = $1', [zone]);
    try {
      const terms = { startsOn: '2026-07-01', endsOn: '2027-01-01', months: [7, 8] };
      const { agreementId } = await lookAfter(service, terms);
      expect(await dueAt(before, agreementId)).toEqual(['2026-07']);
      expect(await dueAt(after, agreementId)).toEqual(['2026-07 overdue', '2026-08']);
      const ending = await lookAfter(service, { ...terms, endsOn: '2026-08-01' });
      expect(await dueAt(before, ending.agreementId)).toEqual(['2026-07']);
      expect(await dueAt(after, ending.agreementId)).toEqual(['2026-07 overdue']);
    } finally {
      await service.owner.query(`UPDATE company SET time_zone = 'America/Chicago'`);
    }
  });

  it('stays owed for ninety days after the agreement has ended, and is marked so', async () => {
    const terms = { startsOn: '2026-01-01', endsOn: '2026-08-01', months: [7] };
    const { agreementId } = await lookAfter(service, terms);
    // The agreement ends on August 1; ninety days later it is October 30.
    expect(await dueAt(noon('2026-10-29'), agreementId)).toEqual(['2026-07 overdue']);
    expect(await dueAt(noon('2026-10-30'), agreementId)).toEqual([]);
    await atTime(service.clock, noon('2026-09-01'), async () => {
      const due = await service.as('owner').get('/v1/maintenance-due?limit=100');
      const ended = due.body.items.filter(
        (item: { agreementId: string }) => item.agreementId === agreementId,
      );
      expect(ended).toMatchObject([{ agreementEnded: true }]);
    });
  });

  it('is one month of those that are over, the latest, however many years they go back', async () => {
    const terms = { startsOn: '2016-01-01', endsOn: '2027-01-01', months: [1, 7] };
    const { agreementId } = await lookAfter(service, terms);
    const listed = async () => {
      const due = await service.as('dispatcher').get('/v1/maintenance-due?limit=100');
      return due.body.items
        .filter((item: { agreementId: string }) => item.agreementId === agreementId)
        .map((item: { dueMonth: string; monthsBehind: number }) => [
          ...[item.dueMonth, item.monthsBehind],
        ]);
    };
    // Each January of eleven years, and each July but the one that is not over.
    expect(await listed()).toEqual([
      ['2026-01', 21],
      ['2026-07', 0],
    ]);
    expectStatus(await sendOpen(service, agreementId, '2026-01'), 201);
    expectStatus(await sendOpen(service, agreementId, '2016-07'), 201);
    expectProblem(await sendOpen(service, agreementId, '2016-07'), 'already-exists');
    expect(await listed()).toEqual([
      ['2025-07', 19],
      ['2026-07', 0],
    ]);
  });

  it('is given once in the month in which an agreement is renewed', async () => {
    const terms = { startsOn: '2025-07-15', endsOn: '2026-07-15', months: [7] };
    const first = await lookAfter(service, terms);
    const renewed = await service.as('dispatcher').post(`/v1/sites/${first.siteId}/agreements`, {
      ...{ planCode: 'two_visits', startsOn: '2026-07-15', endsOn: '2027-07-15' },
      agreedByName: 'Winifred Ashgrove',
    });
    const { id: secondId } = expectStatus(renewed, 201).body;
    const path = `/v1/agreements/${secondId}/maintenance`;
    const months = { months: [7], minutes: 60 };
    expectStatus(await service.as('dispatcher').post(path, months, { ifMatch: '"v0"' }), 200);
    const day = noon('2026-07-20');
    expect(await dueAt(day, first.agreementId)).toEqual(['2025-07 overdue', '2026-07']);
    expect(await dueAt(day, secondId, '2027-07')).toEqual(['2027-07']);
  });

  it('is nothing while no months are set, nor under an agreement that never held', async () => {
    const terms = { startsOn: '2026-06-10', endsOn: '2027-06-10', months: [6] };
    const { agreementId } = await lookAfter(service, terms);
    expect(await dueAt(noon('2026-05-01'), agreementId, '2026-06')).toEqual(['2026-06']);
    const path = `/v1/agreements/${agreementId}`;
    const end = { endsOn: '2026-06-10' };
    expectStatus(await service.as('owner').post(`${path}/end`, end, { ifMatch: '*' }), 200);
    expect(await dueAt(noon('2026-05-01'), agreementId, '2027-12')).toEqual([]);
  });

  it('changes with the months, by whoever saw them as they are', async () => {
    const terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [4, 10] };
    const { agreementId } = await lookAfter(service, terms);
    const path = `/v1/agreements/${agreementId}/maintenance`;
    const owner = service.as('owner');
    expect((await owner.get(path)).body).toEqual({
      ...{ agreementId, months: [4, 10], minutes: 60, version: 1 },
    });
    const body = { months: [12, 5, 5], minutes: 45 };
    const late = await owner.post(path, body, { ifMatch: '"v0"' });
    expectProblem(expectStatus(late, 412), 'version-changed');
    const set = await owner.post(path, body, { ifMatch: '"v1"' });
    expect(expectStatus(set, 200).body).toMatchObject({ months: [5, 12], minutes: 45, version: 2 });
    expect(await dueAt(noon('2026-07-14'), agreementId)).toEqual(['2026-05 overdue']);
    for (const months of [[], [0], [13]]) {
      expectProblem(await setMonths(service, agreementId, months), 'validation-failed');
    }
  });

  it('is read page by page, the longest overdue first, none twice and none left out', async () => {
    const fresh = await createTestService();
    try {
      const terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [1, 3, 5] };
      await lookAfter(fresh, terms);
      await lookAfter(fresh, { ...terms, months: [2, 3, 7] });
      await lookAfter(fresh, { ...terms, months: [3, 12] });
      const seen: string[] = [];
      let cursor = '';
      do {
        const path = `/v1/maintenance-due?limit=2${cursor && `&cursor=${cursor}`}`;
        const { body } = expectStatus(await fresh.as('dispatcher').get(path), 200);
        for (const each of body.items) seen.push(`${each.dueMonth} ${each.agreementId}`);
        cursor = body.nextCursor ?? '';
      } while (cursor !== '');
      expect(seen.map((each) => each.slice(5, 7))).toEqual(['03', '03', '05', '07']);
      expect(seen).toEqual([...new Set(seen)].sort());
    } finally {
      await fresh.close();
    }
  });
});

describe('a month that is due becomes one ticket', () => {
  const terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [6, 7, 10] };

  it('of the occupant, in our words, and is due no more until that is cancelled', async () => {
    const { agreementId, siteId, customerId } = await lookAfter(service, terms);
    const opened = await sendOpen(service, agreementId, '2026-06');
    const ticketId = expectStatus(opened, 201).body.id;
    expect(opened.body).toMatchObject({
      ...{ siteId, callerId: customerId, kind: 'maintenance', state: 'new', symptoms: [] },
      complaint: 'Maintenance due in June 2026',
    });
    expect(await dueAt(noon('2026-07-14'), agreementId)).toEqual(['2026-07']);
    const again = await sendOpen(service, agreementId, '2026-06');
    expect(expectProblem(again, 'already-exists').body.ticketId).toBe(ticketId);
    const { tag } = await ticketAt(service, ticketId);
    const reason = { reason: 'They are away.' };
    const cancel = `/v1/tickets/${ticketId}/cancel`;
    expectStatus(await service.as('dispatcher').post(cancel, reason, { ifMatch: tag }), 200);
    expect(await dueAt(noon('2026-07-14'), agreementId)).toEqual(['2026-06 overdue', '2026-07']);
    expectStatus(await sendOpen(service, agreementId, '2026-06'), 201);
  });

  it('also ahead of time, but only where it is due', async () => {
    const { agreementId } = await lookAfter(service, terms);
    expectStatus(await sendOpen(service, agreementId, '2026-10'), 201);
    for (const month of ['2026-08', '2025-10', '2027-06']) {
      expectProblem(await sendOpen(service, agreementId, month), 'unknown-reference');
    }
    await atTime(service.clock, '2027-04-02T06:00:00Z', async () => {
      expectProblem(await sendOpen(service, agreementId, '2026-06'), 'unknown-reference');
    });
    const nobodys = await sendOpen(service, crypto.randomUUID(), '2026-06');
    expectProblem(nobodys, 'unknown-reference');
  });

  it('when two dispatchers open it at once, twenty times', async () => {
    const all = Array.from({ length: 12 }, (_, index) => index + 1);
    const long = { startsOn: '2026-01-01', endsOn: '2028-01-01', months: all };
    const { agreementId } = await lookAfter(service, long);
    for (let round = 0; round < 20; round += 1) {
      const month = `${2026 + Math.floor(round / 12)}-${String((round % 12) + 1).padStart(2, '0')}`;
      const answers = await Promise.all([1, 2].map(() => sendOpen(service, agreementId, month)));
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
      const [won, lost] = answers.sort((one, other) => one.status - other.status);
      expect(lost?.body).toMatchObject({ code: 'already-exists', ticketId: won?.body.id });
    }
    const dues = await service.db.prisma.maintenanceDue.findMany({ where: { agreementId } });
    expect(new Set(dues.map(({ dueMonth }) => dueMonth.toISOString())).size).toBe(20);
    expect(dues).toHaveLength(20);
  });
});
