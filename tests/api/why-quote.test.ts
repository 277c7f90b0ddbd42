import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import type { QuoteWhy } from '../../src/quotes/why-contract.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type QuoteAt,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let quote: QuoteAt;
/** Of a site where a job has one price for everything. */
let lumpSum: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  const job = await arriveAtJob(service);
  const findings = [await findCapacitor(service, job), await findWornContactor(service, job)];
  quote = await issueQuote(service, await draftQuote(service, job, findings));
  const rule = { ...taxRule, jurisdiction: 'lump_county', mode: 'lump_sum' };
  expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
  const place = await addSite(service, { jurisdiction: 'lump_county' });
  const there = await arriveAtJob(service, place);
  lumpSum = await draftQuote(service, there, [await findCapacitor(service, there)]);
});
afterAll(() => service.close());

type Who = Parameters<TestService['as']>[0];

async function whyAsked(who: Who, { body }: QuoteAt = quote, query = ''): Promise<QuoteWhy> {
  const answer = await service.as(who).get(`/v1/quotes/${body.id}/why${query}`);
  return expectStatus(answer, 200).body;
}

async function wordsAsked(who: Who, { body }: QuoteAt = quote, query = ''): Promise<string> {
  const answer = await service.as(who).get(`/v1/quotes/${body.id}/why-in-words${query}`);
  return expectStatus(answer, 200).text;
}

/*
 * What the company pays, as it could be written: unit costs, wage, truck, overhead, what an hour
 * costs (591,321.76 over 4,608 hours), tiers, margin, and the words that go with them.
 */
const COSTS = [
  /(?<![\w.-])(1840|18\.40|2175|21\.75)(?![\w-])/,
  /8133044|81,?330\.44|66,560|6656000|\$32\.00/,
  /Social Security|unemployment|health insurance/i,
  /1400000|14,?000\.00/,
  /21000000|210,?000\.00/,
  /59132176|591,?321\.76|3,695,761/,
  /(?<![\w.-])(12832|12833|128\.3\d*)(?![\w-])/,
  /unit ?cost|cost per|cost of/i,
  /burdened|overhead|margin|billable|factor: 3/i,
  /owner/i,
];

describe('why this price: a quote that can be followed with a pencil', () => {
  it('lists every line with its steps, and the total is the sum of the lines', async () => {
    const why = await whyAsked('owner');
    const [option] = why.options;
    const [stored] = quote.body.options;
    expect(option?.lines).toEqual(
      stored.lines.map(({ position, key, description, amountCents }: Record<string, unknown>) =>
        expect.objectContaining({ position, key, description, amountCents }),
      ),
    );
    expect(option?.total).toMatchObject({ node: 'step', exact: `${stored.totalCents}/1` });
    // Both parts are taxed: 65.25 and 55.20, together 120.45.
    expect(option?.taxed).toMatchObject([
      { name: 'taxed amount', exact: '12045/1', from: [{ value: '6525' }, { value: '5520' }] },
    ]);
    expect(why.decline).toMatchObject({ totalCents: 8_900, total: { exact: '8900/1' } });
    expect(why.laborRate.cents).toBe(15_097);
  });

  it('shows the owner the way from the wage to the rate, and from a cost to its price', async () => {
    const words = await wordsAsked('owner');
    for (const said of [
      // 591,321.76 over 4,608 hours; the rate before rounding is that over 0.85.
      '- cost per billable hour = 3,695,761/288 cents an hour ~ $128.3250 an hour',
      ', rounded half up to $150.97',
      '- burdened wage per year = $81,330.44',
      '- wage per hour: $32.00 an hour',
      '- margin: 0.15 (15%)',
      '- unit cost: $18.40',
      '- factor: 3',
    ]) {
      expect(words).toContain(said);
    }
  });

  it('says in words what the reasons say, for everybody', async () => {
    const words = await wordsAsked('technician');
    expect(words).toMatch(/^Quote \d+, revision 1: why each price\. Rules: pricing-\d\.\n/);
    for (const line of quote.body.options[0].lines) expect(words).toContain(line.why.sentence);
    expect(words).toContain('- tax on parts');
    expect(words).toContain('= $9.937125, rounded half up to $9.94');
    // 30 minutes at 150.97.
    expect(words).toContain('= $75.485, rounded half up to $75.49');
    expect(words).toMatch(/^If the work is declined: \$89\.00$/m);
  });

  it('is a file of text in UTF-8 that says by its tag when nothing changed', async () => {
    const path = `/v1/quotes/${quote.body.id}/why-in-words`;
    const answer = expectStatus(await service.as('owner').get(path), 200);
    expect(answer.headers['content-type']).toBe('text/plain; charset=utf-8');
    const tag = answer.headers['etag'] ?? '';
    expectStatus(await service.as('owner').get(path, { 'if-none-match': tag }), 304);
    // The technician's is another text.
    expectStatus(await service.as('technician').get(path, { 'if-none-match': tag }), 200);
  });
});

describe.each(['technician', 'dispatcher'] as const)('to a %s', (who) => {
  it.each(COSTS)('no reason says %s, which the owner reads', async (cost) => {
    const asked = async (by: Who) =>
      [JSON.stringify(await whyAsked(by)), await wordsAsked(by)].join('\n');
    expect(await asked('owner')).toMatch(cost);
    expect(await asked(who)).not.toMatch(cost);
  });

  it('nor does one of a lump sum, of which the owner sees what tax the company owes', async () => {
    const owners = await whyAsked('owner', lumpSum);
    // 8.25 % of the capacitor's cost of 18.40 is 1.518.
    expect(owners.options[0]?.companyUseTax).toMatchObject({
      cents: 152,
      why: { node: 'rounding', cents: 152 },
    });
    expect(await wordsAsked('owner', lumpSum)).toContain(
      'For the owner: tax the company owes on its materials: $1.52',
    );
    const others = await whyAsked(who, lumpSum);
    expect(others.options[0]?.companyUseTax).toBeUndefined();
    const all = [JSON.stringify(others), await wordsAsked(who, lumpSum)].join('\n');
    for (const cost of [...COSTS, /\$1\.52|152(?!\d)/]) expect(all).not.toMatch(cost);
  });
});

describe('whose quote it is', () => {
  it('another technician is told that there is none', async () => {
    for (const path of ['why', 'why-in-words']) {
      const answer = await service
        .as('second_technician')
        .get(`/v1/quotes/${quote.body.id}/${path}`);
      expectProblem(answer, 'not-found');
    }
  });

  it('an earlier revision keeps its own reasons', async () => {
    const path = `/v1/quotes/${lumpSum.body.id}/revise`;
    const { findingIds } = lumpSum.body.options[0].lines.find(
      ({ kind }: { kind: string }) => kind === 'part',
    );
    const adjustments = [{ aimedAt: 'visit_fee', amountCents: -100, reason: 'Came late' }];
    const body = { options: [{ title: 'Again', findingIds, adjustments }] };
    const ifMatch = lumpSum.tag;
    expectStatus(await service.as('owner').post(path, body, { ifMatch }), 200);
    const [now, before] = [
      await whyAsked('owner', lumpSum),
      await whyAsked('owner', lumpSum, '?revision=1'),
    ];
    expect([now.revision, now.options[0]?.title]).toEqual([2, 'Again']);
    expect([before.revision, before.options[0]?.title]).toEqual([1, 'Repair']);
    expect(await wordsAsked('owner', lumpSum, '?revision=1')).not.toContain('Came late');
    expect(await wordsAsked('owner', lumpSum)).toContain('Came late');
    expectProblem(
      await service.as('owner').get(`/v1/quotes/${lumpSum.body.id}/why?revision=3`),
      'not-found',
    );
  });
});
