import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { company, taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { cancelUntilOf, legalTextsOf } from '../../src/consumer-rules/index.ts';
import { sendTo } from '../harness/change-order.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
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

const [cancelRight, writtenTerms] = consumerRules;
const timeZone = company.timeZone;

/** A rule in a place of its own. */
function ruleIn(jurisdiction: string, change: object = {}) {
  return { ...cancelRight, jurisdiction, ...change };
}

const add = (rule: object) => service.as('owner').post('/v1/consumer-rules', rule);

describe('a consumer rule is data of a jurisdiction', () => {
  it('and waits for the owner’s counsel, who confirms it once', async () => {
    const added = expectStatus(await add(ruleIn('maple_county')), 201);
    expect(added.body).toMatchObject({
      standing: 'to_be_confirmed_by_counsel',
      confirmedBy: null,
      effectiveTo: null,
    });
    const confirm = () =>
      service
        .as('owner')
        .post(`/v1/consumer-rules/${added.body.id}/confirm`, { confirmedBy: 'Isolde Thornquist' });
    expect(expectStatus(await confirm(), 200).body).toMatchObject({
      standing: 'confirmed_by_counsel',
      confirmedBy: 'Isolde Thornquist',
    });
    expectProblem(await confirm(), 'already-exists');
  });

  it('gives way to its next wording on the day that begins, and is ended once', async () => {
    const old = expectStatus(await add(ruleIn('birch_county')), 201);
    const next = expectStatus(
      await add(ruleIn('birch_county', { effectiveFrom: '2026-09-01' })),
      201,
    );
    const listed = await service
      .as('dispatcher')
      .get('/v1/consumer-rules?jurisdiction=birch_county');
    expect(
      listed.body.items.map(({ id, effectiveTo }: { id: string; effectiveTo: string | null }) => [
        id,
        effectiveTo,
      ]),
    ).toEqual([
      [old.body.id, '2026-09-01'],
      [next.body.id, null],
    ]);
    expectProblem(
      await add(ruleIn('birch_county', { effectiveFrom: '2021-01-01' })),
      'already-exists',
    );
    const end = (effectiveTo: string) =>
      service.as('owner').post(`/v1/consumer-rules/${next.body.id}/end`, { effectiveTo });
    expectProblem(await end('2026-09-01'), 'validation-failed');
    expect(expectStatus(await end('2027-01-01'), 200).body.effectiveTo).toBe('2027-01-01');
    expectProblem(await end('2028-01-01'), 'not-allowed-now');
  });

  it('is refused when its text names what we cannot fill in', async () => {
    const text = { en: 'Write to {companie}.', es: 'Escriba a {company}.' };
    const refused = await add(ruleIn('ash_county', { content: { ...cancelRight?.content, text } }));
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/content/text/en' },
    ]);
  });

  it('is made by the owner alone', async () => {
    const asked = await service.as('dispatcher').post('/v1/consumer-rules', ruleIn('elm_county'));
    expectProblem(asked, 'forbidden');
  });
});

describe('what a quote has to say by law', () => {
  beforeAll(async () => {
    for (const rule of consumerRules) expectStatus(await add(rule), 201);
  });

  it.each([
    // By the invented county: from 25.00 the right to cancel, from 500.00 the written terms too.
    [2_499, []],
    [2_500, [cancelRight]],
    [49_999, [cancelRight]],
    [50_000, [cancelRight, writtenTerms]],
  ])('depends on its size: %i cents', async (totalCents, rules) => {
    const row = await service.db.prisma.company.findFirstOrThrow();
    const sale = { jurisdiction: 'quill_county', day: '2026-07-15', totalCents };
    const texts = await legalTextsOf(service.db.prisma, sale, row);
    expect(texts.en.map(({ title }) => title)).toEqual(rules.map((each) => each?.content.title.en));
    expect(texts.es.map(({ title }) => title)).toEqual(rules.map((each) => each?.content.title.es));
    for (const { text } of [...texts.en, ...texts.es]) expect(text).not.toMatch(/[{}]/);
  });

  it('names the company in it', async () => {
    const row = await service.db.prisma.company.findFirstOrThrow();
    const sale = { jurisdiction: 'quill_county', day: '2026-07-15', totalCents: 10_000 };
    const { es } = await legalTextsOf(service.db.prisma, sale, row);
    expect(es[0]?.text).toContain(`escriba a ${company.name}, ${company.street}, ${company.city}`);
  });
});

describe('an issued quote', () => {
  it('says by law what its size asks for, in both languages, under its hash', async () => {
    const job = await arriveAtJob(service);
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const issued = await issueQuote(service, quote);
    // Far above 25.00 and below 500.00.
    expect(issued.body.options[0].totalCents).toBeGreaterThan(2_500);
    expect(issued.body.options[0].totalCents).toBeLessThan(50_000);
    const { rows } = await service.owner.query(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [issued.body.id],
    );
    const titles = (paper: { legalTexts: { title: string }[] }) =>
      paper.legalTexts.map(({ title }) => title);
    expect(titles(rows[0].paper)).toContain(cancelRight?.content.title.en);
    expect(titles(rows[0].paper)).not.toContain(writtenTerms?.content.title.en);
    expect(titles(rows[0].paper.inSpanish)).toContain(cancelRight?.content.title.es);
  });

  it('once accepted, says until when the yes may be taken back', async () => {
    const job = await arriveAtJob(service);
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const issued = await issueQuote(service, quote);
    const accepted = await service
      .as('technician')
      .post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), { ifMatch: issued.tag });
    // Tuesday, July 14: Wednesday, Thursday, Friday; until midnight in Chicago.
    expect(accepted.body.acceptance.cancelUntil).toBe('2026-07-18T05:00:00.000Z');
  });
});

describe('the right to cancel that a paper promises', () => {
  afterEach(() => service.clock.set('2026-07-14T18:00:00Z'));

  /** A quote with the customer whose paper tells of three business days. */
  async function offered(jurisdiction: string) {
    expectStatus(
      await service.as('owner').post('/v1/tax-rules', { ...taxRule, jurisdiction }),
      201,
    );
    const rule = expectStatus(await add(ruleIn(jurisdiction)), 201);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    return { job, ruleId: rule.body.id, quote: await issueQuote(service, quote) };
  }

  async function yesUntil(quote: QuoteAt): Promise<string | null> {
    const accepted = await sendTo(service, quote, 'accept', yesTo(quote));
    return expectStatus(accepted, 200).body.acceptance.cancelUntil;
  }

  it('is kept when the rule ends between the paper and the yes', async () => {
    const { ruleId, quote } = await offered('cedar_county');
    const path = `/v1/consumer-rules/${ruleId}/end`;
    expectStatus(await service.as('owner').post(path, { effectiveTo: '2026-07-14' }), 200);
    // Tuesday, July 14: Wednesday, Thursday, Friday; until midnight in Chicago.
    expect(await yesUntil(quote)).toBe('2026-07-18T05:00:00.000Z');
  });

  it('is kept when the site is found to lie in another place', async () => {
    const { job, quote } = await offered('poplar_county');
    const path = `/v1/sites/${job.siteId}`;
    const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const jurisdiction = 'nowhere_at_all';
    const rule = { ...taxRule, jurisdiction };
    expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
    expectStatus(await service.as('dispatcher').patch(path, { jurisdiction }, { ifMatch }), 200);
    expect(await yesUntil(quote)).toBe('2026-07-18T05:00:00.000Z');
  });

  it('is counted as the paper says, not as a shorter rule that took its place', async () => {
    const { quote } = await offered('willow_county');
    const content = { ...cancelRight?.content, days: 1 };
    service.clock.set('2026-07-15T18:00:00Z');
    const next = ruleIn('willow_county', { effectiveFrom: '2026-07-15', content });
    expectStatus(await add(next), 201);
    // Wednesday, July 15: Thursday, Friday, Saturday.
    expect(await yesUntil(quote)).toBe('2026-07-19T05:00:00.000Z');
  });
});

describe('the right to take a yes back', () => {
  const yesAt = (acceptedAt: string, change: object = {}) =>
    cancelUntilOf(service.db.prisma, {
      jurisdiction: 'quill_county',
      totalCents: 30_000,
      acceptedAt: new Date(acceptedAt),
      timeZone,
      promised: [],
      ...change,
    });

  it.each([
    // Chicago is five hours behind in summer and six in winter.
    ['on a Tuesday evening ends with Friday', '2026-07-15T03:00:00Z', '2026-07-18T05:00:00Z'],
    [
      'past midnight in Greenwich is still Tuesday in Chicago',
      '2026-07-15T04:59:59Z',
      '2026-07-18T05:00:00Z',
    ],
    ['a second later it is Wednesday there', '2026-07-15T05:00:00Z', '2026-07-19T05:00:00Z'],
    ['over the night in which the clocks go back', '2026-10-29T18:00:00Z', '2026-11-03T06:00:00Z'],
    ['over the night in which they go forward', '2026-03-05T18:00:00Z', '2026-03-10T05:00:00Z'],
  ])('%s', async (_, acceptedAt, until) => {
    expect((await yesAt(acceptedAt))?.toISOString()).toBe(new Date(until).toISOString());
  });

  it('is not given below its amount, nor where no rule gives it', async () => {
    expect(await yesAt('2026-07-14T18:00:00Z', { totalCents: 2_499 })).toBeNull();
    expect(await yesAt('2026-07-14T18:00:00Z', { jurisdiction: 'nowhere' })).toBeNull();
  });

  it('is the longest where several rules give one', async () => {
    const content = { ...cancelRight?.content, days: 5 };
    expectStatus(await add(ruleIn('quill_county', { code: 'longer_right', content })), 201);
    const until = await yesAt('2026-07-14T18:00:00Z');
    expect(until?.toISOString()).toBe('2026-07-21T05:00:00.000Z');
  });
});
