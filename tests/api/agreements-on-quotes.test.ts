import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  freeWindow,
  issueQuote,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const today = '2026-07-14';
const tomorrow = '2026-07-15';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterEach(() => service.clock.set(`${today}T18:00:00Z`));
afterAll(async () => {
  await assertReprices(service);
  await service.close();
});

interface Agreed {
  siteId: string;
  path: string;
  tag: string;
}

async function agree(siteId: string, change: object = {}): Promise<Agreed> {
  const agreement = {
    planCode: 'two_visits',
    startsOn: '2026-01-01',
    // Beyond every window that these tests book.
    endsOn: '2030-01-01',
    agreedByName: 'Winifred Ashgrove',
    ...change,
  };
  const added = await service.as('dispatcher').post(`/v1/sites/${siteId}/agreements`, agreement);
  const { id } = expectStatus(added, 201).body;
  return { siteId, path: `/v1/agreements/${id}`, tag: added.headers['etag'] ?? '' };
}

/** A job at a site under an agreement, with its finding. */
async function jobUnder(change: object = {}): Promise<{ job: Job; found: string; agreed: Agreed }> {
  const place = await addSite(service);
  const agreed = await agree(place.siteId, change);
  const job = await arriveAtJob(service, place);
  return { job, found: await findCapacitor(service, job), agreed };
}

/** The lines of the first option: kind, class and dollars. */
function linesOf({ body }: QuoteAt): string[] {
  return body.options[0].lines.map(
    (line: { kind: string; class: string; amountCents: number }) =>
      `${line.kind} ${line.class} ${(line.amountCents / 100).toFixed(2)}`,
  );
}

/** What a share of the agreement took off the first option, by class. */
function discountsOf({ body }: QuoteAt): Record<string, number> {
  return Object.fromEntries(
    body.options[0].lines
      .filter(({ kind }: { kind: string }) => kind === 'discount')
      .map((line: { class: string; amountCents: number }) => [line.class, line.amountCents]),
  );
}

async function publish(book: object): Promise<void> {
  const effectiveFrom = service.clock.now().toISOString();
  const published = await service.as('owner').post('/v1/price-books', { ...book, effectiveFrom });
  expectStatus(published, 201);
}

describe('a quote under a maintenance agreement', () => {
  /*
   * By hand. Two visits a year: 25 % off the fee, 10 % off labor, access and parts.
   *   fee       89.00                           -22.25           =  66.75
   *   part      18.40 x 3 = 55.20               - 5.52           =  49.68
   *   access    10 min at 150.97 / h = 25.16    - 2.516 = 2.52   =  22.64
   *   labor     30 min at 150.97 / h = 75.49    - 7.549 = 7.55   =  67.94
   *   credit    half of the fee that is left, 33.375, up         = -33.38
   *   tax       8.25 % of the part that is left, 4.0986          =   4.10
   *   total     66.75 + 49.68 + 22.64 + 67.94 - 33.38 + 4.10     = 177.73
   */
  it('takes its shares off fee, parts, labor and access, each in a line of its own', async () => {
    const { job, found } = await jobUnder();
    const quote = await draftQuote(service, job, [found]);
    expect(linesOf(quote).sort()).toEqual(
      [
        'visit_fee visit_fee 89.00',
        'discount visit_fee -22.25',
        'part part 55.20',
        'discount part -5.52',
        'access access 25.16',
        'discount access -2.52',
        'labor labor 75.49',
        'discount labor -7.55',
        'credit visit_fee -33.38',
        'tax tax 4.10',
      ].sort(),
    );
    expect(quote.body.options[0].totalCents).toBe(17_773);
    expect(quote.body.declineTotalCents).toBe(6_675);
    assertAddsUp(quote.body.options[0]);
    for (const { kind, description, code } of quote.body.options[0].lines) {
      if (kind !== 'discount') continue;
      expect(description).toContain('Two visits a year');
      expect(code).toBe('agreement_discount');
    }
  });

  it('is issued and accepted at that total, and its paper names the agreement', async () => {
    const { job, found } = await jobUnder();
    const issued = await issueQuote(service, await draftQuote(service, job, [found]));
    const paper = await service.owner.query<{ paper: string }>(
      'SELECT paper::text FROM quote_issue WHERE quote_id = $1',
      [issued.body.id],
    );
    expect(paper.rows[0]?.paper).toContain('Two visits a year');
    const pdf = await service.as('dispatcher').get(`/v1/quotes/${issued.body.id}/paper`);
    expectStatus(pdf, 200);
    const accepted = await service
      .as('technician')
      .post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), { ifMatch: issued.tag });
    expect(expectStatus(accepted, 200).body.acceptance.totalCents).toBe(17_773);
  });

  it('gives what its own plan gives, and nothing where there is none', async () => {
    // One visit a year: 5 % off labor and parts; 75.49 x 5 % = 3.7745, 55.20 x 5 % = 2.76.
    const { job, found } = await jobUnder({ planCode: 'one_visit' });
    const quote = await draftQuote(service, job, [found]);
    expect(discountsOf(quote)).toEqual({ part: -276, labor: -377 });
    const plain = await arriveAtJob(service);
    const other = await draftQuote(service, plain, [await findCapacitor(service, plain)]);
    expect(discountsOf(other)).toEqual({});
    expect(other.body.options[0].totalCents).toBe(20_490);
    expect(other.body.declineTotalCents).toBe(8_900);
  });
});

describe('the days of an agreement', () => {
  it.each([
    ['begins today', { startsOn: today }, true],
    ['begins tomorrow', { startsOn: tomorrow }, false],
    ['holds today for the last time', { endsOn: tomorrow }, true],
    ['has ended today', { endsOn: today }, false],
  ])('one that %s', async (_, days, holds) => {
    // Booked before there was an agreement, so that nothing of it was told at the call.
    const job = await arriveAtJob(service);
    await agree(job.siteId, days);
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(discountsOf(quote)).toEqual(
      holds ? { visit_fee: -2_225, part: -552, access: -252, labor: -755 } : {},
    );
  });

  it('are those of the company’s clock: at ten in the evening tomorrow has not begun', async () => {
    const job = await arriveAtJob(service);
    await agree(job.siteId, { startsOn: tomorrow });
    const found = await findCapacitor(service, job);
    // 22:00 in America/Chicago; in UTC it is tomorrow already.
    service.clock.set(`${tomorrow}T03:00:00Z`);
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual({});
    service.clock.set(`${tomorrow}T05:00:00Z`);
    expect(discountsOf(await draftQuote(service, job, [found]))).toMatchObject({ part: -552 });
  });

  it('that have ended since give the fee that was told, and nothing more: the draft is priced anew', async () => {
    const { job, found, agreed } = await jobUnder();
    const draft = await draftQuote(service, job, [found]);
    const ended = await service
      .as('dispatcher')
      .post(`${agreed.path}/end`, { endsOn: today }, { ifMatch: agreed.tag });
    expectStatus(ended, 200);
    const technician = service.as('technician');
    const path = `/v1/quotes/${draft.body.id}`;
    const late = await technician.post(`${path}/issue`, {}, { ifMatch: draft.tag });
    expectProblem(late, 'price-outdated');
    const options = [{ title: 'Repair', findingIds: [found] }];
    const revised = await technician.post(`${path}/revise`, { options }, { ifMatch: draft.tag });
    const quote = { body: expectStatus(revised, 200).body, tag: revised.headers['etag'] ?? '' };
    // 66.75 + 55.20 + 25.16 + 75.49 - 33.38 + 4.55
    expect(discountsOf(quote)).toEqual({ visit_fee: -2_225 });
    expect(quote.body.options[0].totalCents).toBe(19_377);
    expect(quote.body.declineTotalCents).toBe(6_675);
    await issueQuote(service, quote);
  });

  it('that have begun since are given: a dearer draft is not issued', async () => {
    const job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    await agree(job.siteId);
    const path = `/v1/quotes/${draft.body.id}/issue`;
    const late = await service.as('technician').post(path, {}, { ifMatch: draft.tag });
    expectProblem(late, 'price-outdated');
  });

  it('that end later take nothing from what was issued before', async () => {
    const { job, found, agreed } = await jobUnder();
    const issued = await issueQuote(service, await draftQuote(service, job, [found]));
    const end = { endsOn: today };
    expectStatus(
      await service.as('owner').post(`${agreed.path}/end`, end, { ifMatch: agreed.tag }),
      200,
    );
    const accepted = await service
      .as('technician')
      .post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), { ifMatch: issued.tag });
    expect(expectStatus(accepted, 200).body.acceptance.totalCents).toBe(17_773);
  });
});

describe('the plan of an agreement', () => {
  const [oneVisit, twoVisits] = priceBook.agreements ?? [];

  afterEach(() => publish(priceBook));

  const asAgreed = { visit_fee: -2_225, part: -552, labor: -755, access: -252 };

  it('is not emptied by a later book: a member keeps every share agreed to', async () => {
    const { job, found } = await jobUnder();
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual(asAgreed);
    const discounts = { visit_fee: '0.000001' };
    await publish({ ...priceBook, agreements: [oneVisit, { ...twoVisits, discounts }] });
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual(asAgreed);
  });

  it('gives more where the price book in force gives its members more', async () => {
    const { job, found } = await jobUnder();
    const discounts = { part: '0.2' };
    await publish({ ...priceBook, agreements: [oneVisit, { ...twoVisits, discounts }] });
    const better = { ...asAgreed, part: -1_104 };
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual(better);
  });

  it('stands when the book offers it no longer, and is not agreed to anew', async () => {
    const { job, found, agreed } = await jobUnder();
    await publish({ ...priceBook, agreements: [] });
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual(asAgreed);
    const anew = await service.as('dispatcher').post(`/v1/sites/${agreed.siteId}/agreements`, {
      planCode: 'two_visits',
      startsOn: '2027-01-01',
      endsOn: '2028-01-01',
      agreedByName: 'Winifred Ashgrove',
    });
    expectProblem(anew, 'unknown-reference');
  });

  it('is not that of a book to come', async () => {
    const { job, found } = await jobUnder();
    const next = { ...priceBook, agreements: [{ ...twoVisits, discounts: { part: '0.5' } }] };
    expectStatus(
      await service.as('owner').post('/v1/price-books', {
        ...next,
        effectiveFrom: `${today}T19:00:00Z`,
      }),
      201,
    );
    expect(discountsOf(await draftQuote(service, job, [found]))).toMatchObject({ part: -552 });
    service.clock.set(`${today}T19:00:00Z`);
    expect(discountsOf(await draftQuote(service, job, [found]))).toEqual({
      ...asAgreed,
      part: -2_760,
    });
  });
});

describe('the fee that is told at the call', () => {
  const monday = '2026-07-20T18:00:00Z';
  const tell = async (siteId: string, windowStart = monday) =>
    service.as('dispatcher').get(`/v1/visit-fee?windowStart=${windowStart}&siteId=${siteId}`);

  it('is told with what the agreement leaves of it; the visit keeps the fee of the schedule', async () => {
    const place = await addSite(service);
    const { path } = await agree(place.siteId);
    expect(expectStatus(await tell(place.siteId), 200).body).toEqual({
      windowStart: monday,
      periodCode: 'regular',
      feeCents: 8_900,
      agreement: {
        id: path.split('/').at(-1),
        planCode: 'two_visits',
        name: 'Two visits a year',
        endsOn: '2030-01-01',
        feeAfterDiscountCents: 6_675,
      },
    });
    // 129.00 x 25 % = 32.25 off.
    const evening = await tell(place.siteId, '2026-07-21T01:00:00Z');
    expect(evening.body).toMatchObject({
      feeCents: 12_900,
      agreement: { feeAfterDiscountCents: 9_675 },
    });
    const { visitId } = await bookJob(service, place);
    const visit = await service.as('dispatcher').get(`/v1/visits/${visitId}`);
    expect(visit.body.feeCents).toBe(8_900);
  });

  it('is what stands on the quote, also where the share comes to half a cent', async () => {
    // 89.00 x 12.5 % = 11.125, which is 11.13 off: 77.87.
    const half = priceBook.agreements?.map((plan) => ({
      ...plan,
      discounts: { visit_fee: '0.125' },
    }));
    await publish({ ...priceBook, agreements: half });
    const { job, found, agreed } = await jobUnder();
    const told = (await tell(agreed.siteId)).body.agreement.feeAfterDiscountCents;
    const quote = await draftQuote(service, job, [found]);
    expect([told, quote.body.declineTotalCents]).toEqual([7_787, 7_787]);
    await publish(priceBook);
  });

  it('is the whole fee under a plan that takes nothing off it, and says so', async () => {
    const { siteId } = await addSite(service);
    await agree(siteId, { planCode: 'one_visit' });
    expect((await tell(siteId)).body.agreement).toMatchObject({ feeAfterDiscountCents: 8_900 });
  });

  it('goes by the day of the window, not by the day of the call', async () => {
    const { siteId } = await addSite(service);
    await agree(siteId, { startsOn: tomorrow, endsOn: '2026-07-20' });
    expect((await tell(siteId)).body.agreement).toBeNull();
    const friday = await tell(siteId, '2026-07-17T18:00:00Z');
    expect(friday.body.agreement).toMatchObject({ feeAfterDiscountCents: 6_675 });
    // Nine in the evening of the 19th in America/Chicago, the 20th in UTC.
    const sunday = await tell(siteId, '2026-07-20T02:00:00Z');
    expect(sunday.body.agreement).toMatchObject({ feeAfterDiscountCents: 9_675 });
  });

  it('names no agreement of a site that has none, and no site that is not there', async () => {
    const { siteId } = await addSite(service);
    expect((await tell(siteId)).body.agreement).toBeNull();
    expectProblem(await tell('019f61c9-2500-7000-b04b-a31a8629189c'), 'not-found');
    expectProblem(await tell('no-site'), 'validation-failed');
  });
});

describe('the fee that was told binds', () => {
  const [oneVisit, twoVisits] = priceBook.agreements ?? [];
  afterEach(() => publish(priceBook));

  /** The book with another share off the fee under the plan of two visits. */
  const publishShare = (visit_fee: string | undefined) =>
    publish({
      ...priceBook,
      agreements: [oneVisit, { ...twoVisits, discounts: { ...(visit_fee && { visit_fee }) } }],
    });

  it.each([
    ['less', '0.1', 6_675],
    ['nothing', undefined, 6_675],
    ['the same', '0.25', 6_675],
    ['more', '0.3', 6_230],
  ])('when a new book takes %s off it, no quote charges more', async (_, share, feeCents) => {
    const { job, found } = await jobUnder();
    await publishShare(share);
    const quote = await draftQuote(service, job, [found]);
    expect(quote.body.declineTotalCents).toBe(feeCents);
    expect(discountsOf(quote)['visit_fee']).toBe(feeCents - 8_900);
    await issueQuote(service, quote);
  });

  it('when another agreement, which takes nothing off it, has followed on that one', async () => {
    const { job, found, agreed } = await jobUnder({ startsOn: '2025-01-01' });
    const end = { endsOn: today };
    const ended = await service
      .as('owner')
      .post(`${agreed.path}/end`, end, { ifMatch: agreed.tag });
    expectStatus(ended, 200);
    await agree(agreed.siteId, { planCode: 'one_visit', startsOn: today });
    const quote = await draftQuote(service, job, [found]);
    expect(discountsOf(quote)).toEqual({ visit_fee: -2_225, part: -276, labor: -377 });
    await issueQuote(service, quote);
  });

  it('when the agreement ends before the visit: of it only the discount on the fee is left', async () => {
    const { job, found, agreed } = await jobUnder();
    const end = { endsOn: today };
    const ended = await service
      .as('owner')
      .post(`${agreed.path}/end`, end, { ifMatch: agreed.tag });
    expectStatus(ended, 200);
    const quote = await draftQuote(service, job, [found]);
    expect(discountsOf(quote)).toEqual({ visit_fee: -2_225 });
    expect(quote.body.declineTotalCents).toBe(6_675);
    await issueQuote(service, quote);
  });

  it('and an agreement made after the booking takes off what it takes off today', async () => {
    const job = await arriveAtJob(service);
    await agree(job.siteId);
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(quote.body.declineTotalCents).toBe(6_675);
    await issueQuote(service, quote);
  });

  it('and a draft is not issued once another book takes more off the fee than was told', async () => {
    const { job, found } = await jobUnder();
    const draft = await draftQuote(service, job, [found]);
    await publishShare('0.3');
    const path = `/v1/quotes/${draft.body.id}/issue`;
    const late = await service.as('technician').post(path, {}, { ifMatch: draft.tag });
    expectProblem(late, 'price-outdated');
  });

  it('stands with the visit and in the journal, as a code, a name and a share', async () => {
    const { job } = await jobUnder();
    await publishShare('0.1');
    const visit = await service.as('technician').get(`/v1/visits/${job.visitId}`);
    const feeAgreement = { code: 'two_visits', name: 'Two visits a year', share: '0.25' };
    expect(visit.body).toMatchObject({
      feeCents: 8_900,
      feeAgreement,
      feeAfterDiscountCents: 6_675,
    });
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${job.visitId}`);
    expect(
      journal.body.items.find(({ event }: { event: string }) => event === 'visit.booked').changes,
    ).toMatchObject({ after: { feeCents: 8_900, feeAgreement } });
    const plain = await bookJob(service);
    const without = await service.as('dispatcher').get(`/v1/visits/${plain.visitId}`);
    expect(without.body).toMatchObject({ feeAgreement: null, feeAfterDiscountCents: 8_900 });
  });

  it('is confirmed with the booking: what an agreement leaves of it, where that was told', async () => {
    const place = await addSite(service);
    await agree(place.siteId);
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId: place.siteId, complaint: 'It does not cool.' });
    const window = freeWindow();
    const book = (toldFeeCents: number, toldFeeAfterDiscountCents: number) =>
      service.as('dispatcher').post('/v1/visits', {
        ticketId: opened.body.id,
        technicianId: service.staff.technician.id,
        ...window,
        feeDisclosure: {
          toldFeeCents,
          toldFeeAfterDiscountCents,
          agreedBy: 'Winifred Ashgrove',
        },
      });
    for (const [told, after] of [
      [8_900, 6_674],
      [8_900, 6_676],
      [8_900, 8_900],
      [6_675, 6_675],
    ] as const) {
      expect(expectProblem(await book(told, after), 'visit-fee-differs').body).toMatchObject({
        feeCents: 8_900,
        feeAfterDiscountCents: 6_675,
        periodCode: 'regular',
      });
    }
    expect(expectStatus(await book(8_900, 6_675), 201).body.feeAfterDiscountCents).toBe(6_675);
  });
});
