import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rehearseStatements } from '../bench/servers/record-statements.ts';
import { atTime } from '../harness/fixed-clock.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  type Site,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  finishVisit,
  fitCapacitor,
  measureAfter,
  sellCapacitor,
  sendClose,
  sendReopen,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
async function glance({ siteId }: Pick<Site, 'siteId'>): Promise<any> {
  const path = `/v1/sites/${siteId}/at-a-glance`;
  return expectStatus(await service.as('dispatcher').get(path), 200).body;
}

/** A job sold, done and closed. */
async function closeJob(site?: Site): Promise<Job> {
  const job = await arriveAtJob(service, site);
  const sold = await sellCapacitor(service, job);
  await fitCapacitor(service, job.visitId, sold);
  await measureAfter(service, job);
  await finishVisit(service, job.visitId);
  expectStatus(await sendClose(service, job.ticketId), 200);
  return job;
}

describe('a site that nothing is known of yet', () => {
  it('is shown with its people and machines, and nothing else', async () => {
    const site = await addSite(service);
    expect(await glance(site)).toMatchObject({
      site: { id: site.siteId, street: '3 Thistle Court', accessNotes: null, place: null },
      occupant: { id: site.customerId, name: 'Winifred Ashgrove', phone: '555-0111' },
      approver: { id: site.customerId, limitCents: null },
      payer: { id: site.customerId },
      systems: [
        {
          ...{ id: site.systemId, name: 'Main floor' },
          machines: [
            { id: site.outdoorId, kind: 'condensing_unit', ageYears: null, warranties: [] },
            { id: site.indoorId, kind: 'air_handler', ageYears: null, warranties: [] },
          ],
        },
      ],
      agreement: null,
      ...{ openTickets: [], openQuotes: [], lastClosed: [], recentWork: [] },
    });
  });

  it('of a landlord shows who lives there, who says yes up to what, and who pays', async () => {
    const dispatcher = service.as('dispatcher');
    const site = await addSite(service);
    const people = await Promise.all(
      ['Umber Care', 'Quill Trust'].map((name) =>
        dispatcher.post('/v1/customers', { name, phone: '555-0144' }),
      ),
    );
    const [approverId, payerId] = people.map(({ body }) => body.id);
    const path = `/v1/sites/${site.siteId}`;
    const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
    const change = {
      approverId,
      approverLimitCents: 50_000,
      payerId,
      accessNotes: 'Dog: Pemberton.',
    };
    expectStatus(await dispatcher.patch(path, change, { ifMatch }), 200);
    expect(await glance(site)).toMatchObject({
      site: { accessNotes: 'Dog: Pemberton.' },
      occupant: { name: 'Winifred Ashgrove' },
      approver: { name: 'Umber Care', phone: '555-0144', limitCents: 50_000 },
      payer: { name: 'Quill Trust' },
    });
  });

  it('is shown before there is any price book, without a fee', async () => {
    const bare = await createTestService({ withPriceBook: false });
    try {
      const { siteId } = await addSite(bare);
      const seen = await bare.as('dispatcher').get(`/v1/sites/${siteId}/at-a-glance`);
      expect(expectStatus(seen, 200).body.feeNow).toBeNull();
    } finally {
      await bare.close();
    }
  });
});

describe('age and warranty are of today on the company’s calendar', () => {
  // The clock of the tests shows 13:00 on July 14, 2026 in Chicago, five hours behind UTC.
  it.each([
    ['at one in the afternoon', '2026-07-14T18:00:00Z', 5, true],
    ['at its last minute, when it is tomorrow in UTC', '2026-07-15T04:59:00Z', 5, true],
    ['a minute later', '2026-07-15T05:00:00Z', 6, false],
  ])('%s', async (_when, instant, ageYears, holds) => {
    const outdoor = {
      installedOn: '2020-07-15',
      partsWarrantyUntil: '2026-07-14',
      compressorWarrantyUntil: '2030-07-14',
      laborWarrantyUntil: '2021-07-14',
    };
    const site = await addSite(service, { outdoor });
    const seen = await atTime(service.clock, instant, () => glance(site));
    expect(seen.systems[0].machines[0]).toMatchObject({
      ageYears,
      warranties: [
        { of: 'parts', until: '2026-07-14', holds },
        { of: 'compressor', until: '2030-07-14', holds: true },
        { of: 'labor', until: '2021-07-14', holds: false },
      ],
    });
  });
});

describe('an agreement', () => {
  it('in force is shown with what it gives, and the fee now with what it leaves of it', async () => {
    const site = await addSite(service);
    const terms = { planCode: 'two_visits', agreedByName: 'Winifred Ashgrove' };
    const path = `/v1/sites/${site.siteId}/agreements`;
    const days = { startsOn: '2026-01-01', endsOn: '2026-07-15' };
    const made = await service.as('dispatcher').post(path, { ...terms, ...days });
    const { id, plan } = expectStatus(made, 201).body;
    const seen = await glance(site);
    expect(seen.agreement).toEqual({ id, endsOn: '2026-07-15', plan });
    const told = await service
      .as('dispatcher')
      .get(`/v1/visit-fee?windowStart=2026-07-14T18:00:00.000Z&siteId=${site.siteId}`);
    expect(seen.feeNow).toEqual(expectStatus(told, 200).body);
    expect(seen.feeNow.agreement.feeAfterDiscountCents).toBeLessThan(seen.feeNow.feeCents);
    const after = await atTime(service.clock, '2026-07-15T05:00:00Z', () => glance(site));
    expect(after.agreement).toBeNull();
  });
});

describe('what is open', () => {
  it('a booked ticket is shown with who comes when', async () => {
    const job = await bookJob(service);
    const visit = (await service.as('dispatcher').get(`/v1/visits/${job.visitId}`)).body;
    const { openTickets } = await glance(job);
    expect(openTickets).toMatchObject([
      {
        ...{ id: job.ticketId, kind: 'repair', state: 'scheduled', symptoms: ['no_cooling'] },
        complaint: 'It blows warm air.',
        visits: [
          {
            ...{ id: job.visitId, state: 'booked', technicianName: 'Tamsin Roake' },
            ...{ windowStart: visit.windowStart, windowEnd: visit.windowEnd },
          },
        ],
      },
    ]);
  });

  it('an issued quote is shown with the total of every option until it expires', async () => {
    const job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect((await glance(job)).openQuotes).toEqual([]);
    const { body }: QuoteAt = await issueQuote(service, draft);
    expect((await glance(job)).openQuotes).toEqual([
      {
        ...{ id: body.id, number: body.number, revision: 1, validUntil: body.validUntil },
        ticketNumber: expect.any(Number),
        options: [{ title: 'Repair', totalCents: body.options[0].totalCents }],
      },
    ]);
    const late = await atTime(service.clock, body.validUntil, () => glance(job));
    expect(late.openQuotes).toEqual([]);
  });

  it('an answered quote is not open', async () => {
    const job = await arriveAtJob(service);
    await sellCapacitor(service, job);
    expect((await glance(job)).openQuotes).toEqual([]);
  });
});

describe('what was found and done', () => {
  it('is told in plain words, with how it was left, and that it reopens as a callback', async () => {
    const job = await closeJob();
    const seen = await glance(job);
    expect(seen.openTickets).toEqual([]);
    expect(seen.lastClosed).toEqual([
      {
        ...{ id: job.ticketId, number: expect.any(Number), complaint: 'It blows warm air.' },
        closedOn: '2026-07-14',
        found: ['Weak or failed run capacitor, compressor section'],
        done: ['Replace the dual run capacitor'],
        ...{ complaintGone: 'yes', conditionLeft: 'Cooling; panels closed.' },
      },
    ]);
    expect(seen.recentWork).toMatchObject([{ ticketId: job.ticketId, reopenUntil: '2026-08-13' }]);
    const later = await atTime(service.clock, '2026-08-14T05:00:00Z', () => glance(job));
    expect(later.recentWork).toEqual([]);
    expect(later.lastClosed).toHaveLength(1);
  });

  it('of a reopened ticket is open again, not closed', async () => {
    const job = await closeJob();
    expectStatus(await sendReopen(service, job.ticketId), 200);
    const seen = await glance(job);
    expect(seen.lastClosed).toEqual([]);
    expect(seen.openTickets).toMatchObject([{ id: job.ticketId }]);
  });

  it('goes back five closed tickets, the latest first', async () => {
    const site = await addSite(service);
    const closed: string[] = [];
    for (let day = 1; day <= 6; day += 1) {
      const at = `2026-07-${14 + day}T18:00:00Z`;
      await atTime(service.clock, at, async () => {
        closed.unshift((await closeJob(site)).ticketId);
      });
    }
    const { lastClosed } = await glance(site);
    expect(lastClosed.map(({ id }: { id: string }) => id)).toEqual(closed.slice(0, 5));
  });
});

describe('a glance is for whoever has to do with the site', () => {
  it('the technician who is booked there sees it; another one does not', async () => {
    const { siteId } = await bookJob(service);
    const path = `/v1/sites/${siteId}/at-a-glance`;
    expectStatus(await service.as('technician').get(path), 200);
    expectProblem(await service.as('second_technician').get(path), 'not-found');
  });

  it('it takes the same number of statements however much there is', async () => {
    const little = await closeJob();
    const much = await closeJob();
    for (const _ of [1, 2]) await closeJob(much);
    const [one, many] = [await statementsOf(little), await statementsOf(much)];
    expect(many).toBe(one);
    expect(one).toBeLessThan(60);
  });
});

async function statementsOf(site: Site): Promise<number> {
  const recorder = rehearseStatements();
  try {
    await glance(site);
    return recorder.take().length;
  } finally {
    recorder.stop();
  }
}
