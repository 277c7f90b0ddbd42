import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { priceBook, rates } from '../../seed/price-book.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { findOpenFuse, findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
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

/** The same book with every cost, wage and minute doubled. */
const dearerBook = {
  ...priceBook,
  rates: { ...rates, wage: { ...rates.wage, hourlyCents: 2 * rates.wage.hourlyCents } },
  tasks: priceBook.tasks.map((task) => ({ ...task, minutes: 2 * task.minutes })),
  parts: priceBook.parts.map((part) => ({ ...part, costCents: 2 * part.costCents })),
};

let service: TestService;
let job: Job;
let found: string;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(async () => {
  job = await arriveAtJob(service);
  found = await findCapacitor(service, job);
});
afterAll(() => service.close());

describe('a price book that changes', () => {
  it('leaves every cent and word of what is issued; a draft has to be priced anew', async () => {
    const drafted = await draftQuote(service, job, [found]);
    const waiting = await draftQuote(service, job, [found]);
    const issued = await issueQuote(service, drafted);
    await publish(dearerBook);
    const late = await service
      .as('technician')
      .post(`/v1/quotes/${waiting.body.id}/issue`, {}, { ifMatch: waiting.tag });
    expectProblem(late, 'price-outdated');
    expect(issued.body.options).toEqual(drafted.body.options);
    const kept = await service.owner.query<{ total: number }>(
      `SELECT (paper -> 'options' -> 0 ->> 'totalCents')::int AS total FROM quote_issue
       WHERE quote_id = $1`,
      [issued.body.id],
    );
    expect(kept.rows).toEqual([{ total: 20_490 }]);

    // Only what is priced from now on has the new prices: the next revision, and the next quote.
    const revised = await service
      .as('technician')
      .post(
        `/v1/quotes/${issued.body.id}/revise`,
        { options: [{ title: 'Repair', findingIds: [found] }] },
        { ifMatch: issued.tag },
      );
    expect(expectStatus(revised, 200).body.options[0].totalCents).toBeGreaterThan(20_490);
    const next = await draftQuote(service, job, [found]);
    expect(next.body.options[0].totalCents).toBe(revised.body.options[0].totalCents);
    const accepted = await service
      .as('technician')
      .post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), {
        ifMatch: revised.headers['etag'] ?? '',
      });
    expect(expectStatus(accepted, 200).body.acceptance.totalCents).toBe(20_490);
    await publish(priceBook);
  });

  it.each([
    ['part', 'CAP-45-5-440'],
    ['task', 'replace_dual_run_capacitor'],
  ])('and no longer has a %s says so when the finding is priced again', async (_, gone) => {
    await publish({
      ...priceBook,
      tasks: priceBook.tasks.filter(({ code }) => code !== gone),
      parts: priceBook.parts.filter(({ code }) => code !== gone),
    });
    const refused = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Repair', findingIds: [found] }],
    });
    await publish(priceBook);
    expect(expectProblem(refused, 'price-refused').body.detail).toContain(gone);
  });
});

describe('every price ever stored', () => {
  it('comes out again to the cent from its inputs, under the rules it was made by', async () => {
    const fuse = await findOpenFuse(service, job);
    const contactor = await findWornContactor(service, job);
    const part = `part:${found}:replace_dual_run_capacitor:CAP-45-5-440`;
    const options = [
      { title: 'All of it', findingIds: [found, contactor, fuse] },
      {
        title: 'Goodwill',
        findingIds: [contactor, found],
        adjustments: [{ aimedAt: part, amountCents: -500, reason: 'We came late.' }],
      },
      { title: 'Nothing', findingIds: [] },
    ];
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options,
    });
    const quote: QuoteAt = {
      body: expectStatus(drafted, 201).body,
      tag: drafted.headers['etag'] ?? '',
    };
    await issueQuote(service, quote);
    await publish(dearerBook);
    await publish(priceBook);
    expect(await assertReprices(service)).toBeGreaterThanOrEqual(3);
  });

  it('and a single cent that was moved would be noticed', async () => {
    await draftQuote(service, job, [found]);
    const client = await service.owner.connect();
    try {
      await client.query("SET session_replication_role = 'replica'");
      const move = (cents: number) =>
        client.query(
          `UPDATE quote_line SET amount_cents = amount_cents + $1
           WHERE option_id = (SELECT max(id::text)::uuid FROM quote_option) AND kind = 'labor'`,
          [cents],
        );
      await move(1);
      await expect(assertReprices(service)).rejects.toThrow();
      await move(-1);
      await assertReprices(service);
    } finally {
      await client.query('RESET session_replication_role');
      client.release();
    }
  });

  it('does not depend on the order in which findings were written', async () => {
    const contactor = await findWornContactor(service, job);
    const one = await draftQuote(service, job, [found, contactor]);
    const other = await draftQuote(service, job, [contactor, found]);
    expect(linesOf(other)).toEqual(linesOf(one));
  });
});

function linesOf({ body }: QuoteAt): unknown {
  return body.options[0].lines.map((line: { key: string; amountCents: number }) => [
    line.key,
    line.amountCents,
  ]);
}

async function publish(book: object): Promise<void> {
  expectStatus(await service.as('owner').post('/v1/price-books', book), 201);
}
