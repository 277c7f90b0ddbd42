import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/**
 * What the company pays, as it could be written: unit costs, wage, truck, overhead, what an hour
 * costs (591,321.76 over 4,608 hours), and the words that go with them.
 */
const SECRETS = [
  /(?<![\w.-])(1840|18\.40|2175|21\.75)(?![\w-])/,
  /8133044|81,?330\.44/,
  /(?<![\w.-])(3200|32\.00)(?![\w-])|6656000|66,?560\.00|540000|5,?400\.00/,
  /1400000|14,?000\.00/,
  /21000000|210,?000\.00/,
  /59132176|591,?321\.76/,
  /(?<![\w.-])(12832|12833|128\.32|128\.33)(?![\w-])/,
  /unit ?cost/i,
  /cost per/i,
  /cost of/i,
  /burdened|overhead|margin|billable/i,
  /"owner":/,
];

let service: TestService;
let job: Job;
let quote: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  const findings = [await findCapacitor(service, job), await findWornContactor(service, job)];
  quote = await issueQuote(service, await draftQuote(service, job, findings));
});
afterAll(() => service.close());

/** Everything that anybody may read about a job. */
function pages(): string[] {
  return [
    `/v1/quotes/${quote.body.id}`,
    `/v1/quotes/${quote.body.id}?revision=1`,
    `/v1/quotes/${quote.body.id}/why`,
    `/v1/quotes/${quote.body.id}/why-in-words`,
    '/v1/quotes',
    '/v1/parts',
    '/v1/faults',
    `/v1/visits/${job.visitId}`,
    `/v1/visits/${job.visitId}/findings`,
    `/v1/visits/${job.visitId}/evidence`,
    `/v1/visits/${job.visitId}/assessment?equipmentId=${job.outdoorId}`,
    `/v1/tickets/${job.ticketId}`,
    `/v1/equipment/${job.outdoorId}`,
    '/v1/company',
    '/v1/staff',
  ];
}

describe.each(['technician', 'dispatcher'] as const)('to a %s', (who: StaffKey) => {
  it('no answer about a job says what anything costs the company', async () => {
    for (const path of pages()) {
      expectNoSecret(expectStatus(await service.as(who).get(path), 200).text);
    }
  });

  it('the price book is closed: neither in force, nor by its identifier, nor to publish', async () => {
    const book = await service.as('owner').get('/v1/price-books/in-force');
    const client = service.as(who);
    expectProblem(await client.get('/v1/price-books/in-force'), 'forbidden');
    expectProblem(await client.get(`/v1/price-books/${book.body.id}`), 'forbidden');
    expectProblem(await client.post('/v1/price-books', {}), 'forbidden');
    expectProblem(await client.get('/v1/journal'), 'forbidden');
  });
});

describe('to a technician who makes a quote', () => {
  it('no answer on the way says a cost, a refusal least of all', async () => {
    const technician = service.as('technician');
    const findingIds = [await findCapacitor(service, job)];
    const part = `part:${findingIds[0]}:replace_dual_run_capacitor:CAP-45-5-440`;
    const asked = (amountCents: number) =>
      technician.post('/v1/quotes', {
        visitId: job.visitId,
        options: [
          {
            title: 'Repair',
            findingIds,
            adjustments: [{ aimedAt: part, amountCents, reason: 'A friend of the house' }],
          },
        ],
      });
    // The part is priced at 55.20 and costs 18.40: 19.20 is inside the band, 18.20 is not, and the
    // refusal must not say where it ends.
    const drafted = await asked(-3_600);
    expectNoSecret(expectStatus(drafted, 201).text);
    const refused = await asked(-3_700);
    expectProblem(refused, 'price-refused');
    expectNoSecret(refused.text);
    let tag = drafted.headers['etag'] ?? '';
    for (const [verb, body] of [
      ['revise', { options: [{ title: 'Repair', findingIds }] }],
      ['issue', {}],
      ['decline', { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' }],
    ] as const) {
      const path = `/v1/quotes/${drafted.body.id}/${verb}`;
      const answer = expectStatus(await technician.post(path, body, { ifMatch: tag }), 200);
      expectNoSecret(answer.text);
      tag = answer.headers['etag'] ?? '';
    }
  });
});

describe('to the customer', () => {
  it('the paper says what everything is priced at, and nothing of what it costs', async () => {
    const paper = await service.app.inject({
      method: 'GET',
      url: `/v1/quotes/${quote.body.id}/paper`,
      headers: { authorization: `Bearer ${service.staff.technician.token}` },
    });
    const texts = await readPageTexts(new Uint8Array(paper.rawPayload));
    const text = texts.map((page) => JSON.stringify(page)).join('\n');
    expect(text).toContain('55.20');
    expectNoSecret(text);
    const kept = await service.owner.query<{ paper: string }>(
      'SELECT paper::text AS paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expectNoSecret(kept.rows[0]?.paper ?? '');
  });
});

describe('to the owner', () => {
  it('each price shows the cost it came from', async () => {
    const seen = await service.as('owner').get(`/v1/quotes/${quote.body.id}`);
    const text = expectStatus(seen, 200).text;
    for (const secret of [
      /(?<![\w.-])1840(?![\w-])/,
      /unit cost/,
      /cost per billable hour/,
      /"owner":/,
    ]) {
      expect(text).toMatch(secret);
    }
    const book = await service.as('owner').get('/v1/price-books/in-force');
    expect(book.body.rates.wage.hourlyCents).toBe(3_200);
  });
});

function expectNoSecret(text: string): void {
  expect(text.length).toBeGreaterThan(10);
  for (const secret of SECRETS) expect(text).not.toMatch(secret);
}
