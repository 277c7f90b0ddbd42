import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { currentPricingRuleset, pricingInputsSchema } from '../../src/pricing/index.ts';
import { beginDraft, changeDraft, type DraftAt, draftAt } from '../harness/draft.ts';
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
/** Issued in this order, each with one option. */
let capacitor: QuoteAt;
let both: QuoteAt;
let nothing: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  capacitor = await issuedQuote(async (job) => [await findCapacitor(service, job)]);
  both = await issuedQuote(async (job) => [
    await findCapacitor(service, job),
    await findWornContactor(service, job),
  ]);
  nothing = await issuedQuote(async () => []);
}, 60_000);
afterAll(() => service.close());

const owner = () => service.as('owner');

async function issuedQuote(
  find: (job: Awaited<ReturnType<typeof arriveAtJob>>) => Promise<string[]>,
): Promise<QuoteAt> {
  const job = await arriveAtJob(service);
  const issued = await issueQuote(service, await draftQuote(service, job, await find(job)));
  // The last issued are found by the clock, which stands still in tests.
  service.clock.advance(60_000);
  return issued;
}

async function preview({ id }: DraftAt, query = '') {
  return expectStatus(await owner().get(`/v1/price-book-drafts/${id}/preview${query}`), 200).body;
}

const totalOf = (quote: QuoteAt): number => quote.body.options[0].totalCents;
const part = (code: string) => {
  const found = priceBook.parts.find((each) => each.code === code);
  if (found === undefined) throw new Error(`the invented book has ${code}`);
  return found;
};
const task = (code: string) => {
  const found = priceBook.tasks.find((each) => each.code === code);
  if (found === undefined) throw new Error(`the invented book has ${code}`);
  return found;
};

describe('a draft that changes nothing', () => {
  it('says so, and every quote costs what it cost', async () => {
    const draft = await beginDraft(service);
    const body = await preview(draft);
    expect(body).toMatchObject({
      draftId: draft.id,
      changesNothing: true,
      changes: [],
      moreChanges: 0,
      summary: {
        optionsPriced: 3,
        optionsNotPriced: 0,
        up: 0,
        down: 0,
        same: 3,
        differenceCents: 0,
      },
    });
    expect(body.laborRate.afterCents).toBe(body.laborRate.beforeCents);
    const shown = body.quotes.map((quote: PreviewedQuote) => [
      quote.number,
      quote.options[0]?.oldTotalCents,
      quote.options[0]?.newTotalCents,
    ]);
    // The one issued last comes first.
    const expected = [nothing, both, capacitor].map((quote) => [
      quote.body.number,
      totalOf(quote),
      totalOf(quote),
    ]);
    expect(shown).toEqual(expected);
  });

  it('says so too when numbers are only written in another way', async () => {
    let draft = await beginDraft(service);
    const policy = {
      ...priceBook.policy,
      secondTaskDiscount: '0.200',
      visitFeeCreditShare: '0.50',
    };
    draft = await changeDraft(service, draft, { policy });
    expect((await preview(draft)).changesNothing).toBe(true);
  });
});

describe('a draft that changes prices', () => {
  it('shows each change, and what each issued quote would cost under it', async () => {
    let draft = await beginDraft(service);
    draft = await changeDraft(service, draft, {
      parts: { put: [{ ...part('CAP-45-5-440'), costCents: 2_840 }] },
      tasks: { put: [{ ...task('replace_contactor'), minutes: 20 }] },
      periods: priceBook.periods.map((period) => ({ ...period, visitFeeCents: 10_000 })),
    });
    const body = await preview(draft);
    // 18.40 x 3 = 55.20; 25.00 x 3 + 3.40 x 2.2 = 82.48.
    expect(body.changes).toEqual([
      change('periods', 'regular', 'visitFeeCents', 8_900, 10_000),
      change('periods', 'after_hours', 'visitFeeCents', 12_900, 10_000),
      change('tasks', 'replace_contactor', 'minutes', 35, 20),
      change('parts', 'CAP-45-5-440', 'costCents', 1_840, 2_840),
      change('parts', 'CAP-45-5-440', 'priceCents', 5_520, 8_248),
    ]);
    expect(body.visitFees).toEqual([
      { periodCode: 'regular', beforeCents: 8_900, afterCents: 10_000 },
      { periodCode: 'after_hours', beforeCents: 12_900, afterCents: 10_000 },
    ]);
    expect(body.feesTold).toContain('keeps the visit fee that its customer was told');
    // The fee told stays: a quote of nothing but the fee does not change.
    expect(optionOf(body, nothing)).toMatchObject({ differenceCents: 0, percent: '0.00' });
    // Only the part changed, 27.28 before tax of 8.25 percent on parts: 2.25.
    const dearer = optionOf(body, capacitor);
    expect(dearer.differenceCents).toBe(2_728 + 225);
    expect(dearer.percent).toBe(((100 * 2_953) / totalOf(capacitor)).toFixed(2));
    expect(dearer.newTotalCents).toBe(totalOf(capacitor) + 2_953);
    const differences = [nothing, both, capacitor].map(
      (quote) => optionOf(body, quote).differenceCents ?? 0,
    );
    expect(body.summary).toMatchObject({
      up: differences.filter((cents) => cents > 0).length,
      down: differences.filter((cents) => cents < 0).length,
      same: 1,
      differenceCents: differences.reduce((sum, cents) => sum + cents),
      largest: { quoteNumber: capacitor.body.number, position: 1, cents: 2_953 },
    });
  });

  it('tells the same totals that a quote drafted under it comes to', async () => {
    let draft = await beginDraft(service);
    draft = await changeDraft(service, draft, {
      rates: { ...priceBook.rates, margin: '0.25' },
      tasks: { put: [{ ...task('replace_dual_run_capacitor'), minutes: 50, accessMinutes: 20 }] },
      policy: { ...priceBook.policy, visitFeeCreditShare: '0.25', secondTaskDiscount: '0.3' },
    });
    const body = await preview(draft);
    const { beforeCents, afterCents } = body.laborRate;
    expect(afterCents).toBeGreaterThan(beforeCents);
    const published = await owner().post(
      `/v1/price-book-drafts/${draft.id}/publish`,
      { effectiveFrom: service.clock.now().toISOString() },
      { ifMatch: draft.tag },
    );
    draft = draftAt(expectStatus(published, 200));
    const inForce = (await owner().get('/v1/price-books/in-force')).body;
    expect(inForce.laborRateCents).toBe(afterCents);
    for (const quote of [capacitor, both]) {
      const findingIds = quote.body.options[0].lines.flatMap(
        (line: { findingIds: string[] }) => line.findingIds,
      );
      const again = await service.as('technician').post('/v1/quotes', {
        visitId: quote.body.visitId,
        options: [{ title: 'Again', findingIds: [...new Set(findingIds)] }],
      });
      const { options } = expectStatus(again, 201).body;
      expect(options[0].totalCents).toBe(optionOf(body, quote).newTotalCents);
    }
    // Once it is in force, the draft changes nothing any more.
    expect((await preview(draft)).changesNothing).toBe(true);
    expectStatus(
      await owner().post('/v1/price-books', {
        ...priceBook,
        effectiveFrom: service.clock.now().toISOString(),
      }),
      201,
    );
  });

  it('shows each quote once, by the revision issued last, whatever is drafted since', async () => {
    const path = `/v1/quotes/${nothing.body.id}/revise`;
    const options = { options: [{ title: 'Nothing', findingIds: [] }] };
    const technician = service.as('technician');
    const shown = async () =>
      (await preview(await beginDraft(service))).quotes.filter(
        ({ quoteId }: PreviewedQuote) => quoteId === nothing.body.id,
      );
    const second = await technician.post(path, options, { ifMatch: nothing.tag });
    const tag = expectStatus(second, 200).headers['etag'] ?? '';
    expect(await shown()).toEqual([expect.objectContaining({ revision: 1 })]);
    const issued = await issueQuote(service, { body: second.body, tag });
    expect(await shown()).toEqual([expect.objectContaining({ revision: 2 })]);
    expectStatus(await technician.post(path, options, { ifMatch: issued.tag }), 200);
    expect(await shown()).toEqual([expect.objectContaining({ revision: 2 })]);
  });

  it('shows at most the quotes asked for, from one to two hundred', async () => {
    const draft = await beginDraft(service);
    const quotes = (await preview(draft, '?quotes=2')).quotes;
    expect(quotes).toHaveLength(2);
    for (const asked of ['0', '201', 'all']) {
      const path = `/v1/price-book-drafts/${draft.id}/preview?quotes=${asked}`;
      expectProblem(await owner().get(path), 'validation-failed');
    }
  });
});

describe('a quote that a draft cannot price', () => {
  it('is named with the task, part or period that is missing; the others are priced', async () => {
    let draft = await beginDraft(service);
    draft = await changeDraft(service, draft, {
      parts: { remove: ['CAP-45-5-440'] },
      tasks: { remove: ['replace_contactor'] },
    });
    const body = await preview(draft);
    expect(optionOf(body, capacitor)).toMatchObject({
      oldTotalCents: totalOf(capacitor),
      newTotalCents: null,
      differenceCents: null,
      notPriced: {
        reason: 'missing_in_draft',
        messages: ['The draft has no part "CAP-45-5-440".'],
      },
    });
    expect(optionOf(body, both).notPriced?.messages).toEqual([
      'The draft has no task "replace_contactor".',
      'The draft has no part "CAP-45-5-440".',
    ]);
    expect(optionOf(body, nothing).notPriced).toBeNull();
    expect(body.summary).toMatchObject({ optionsPriced: 1, optionsNotPriced: 2 });
  });

  it('because a rule refuses, says which', async () => {
    const job = await arriveAtJob(service);
    const found = await findCapacitor(service, job);
    const aimedAt = `part:${found}:replace_dual_run_capacitor:CAP-45-5-440`;
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [
        {
          title: 'Goodwill',
          findingIds: [found],
          adjustments: [{ aimedAt, amountCents: -3_000, reason: 'We came late.' }],
        },
      ],
    });
    const tag = expectStatus(drafted, 201).headers['etag'] ?? '';
    const issued = await issueQuote(service, { body: drafted.body, tag });
    let draft = await beginDraft(service);
    // At a cost of 1.00 the part is 3.00, and 30.00 cannot be given off it.
    const put = [{ ...part('CAP-45-5-440'), costCents: 100 }];
    draft = await changeDraft(service, draft, { parts: { put } });
    const option = optionOf(await preview(draft), issued);
    expect(option.notPriced?.reason).toBe('refused_by_rule');
    expect(option.notPriced?.messages[0]).toContain('below zero');
  });
});

describe('a quote under a maintenance agreement', () => {
  it('keeps what was agreed to, and is priced better where the draft’s plan is better', async () => {
    const place = await addSite(service);
    const agreed = await service.as('dispatcher').post(`/v1/sites/${place.siteId}/agreements`, {
      planCode: 'two_visits',
      startsOn: '2026-01-01',
      endsOn: '2027-01-01',
      agreedByName: 'Winifred Ashgrove',
    });
    expectStatus(agreed, 201);
    const job = await arriveAtJob(service, place);
    const drafted = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const issued = await issueQuote(service, drafted);
    const of = (body: { quotes: PreviewedQuote[] }) =>
      body.quotes.find(({ quoteId }: PreviewedQuote) => quoteId === issued.body.id);

    const [one, two] = priceBook.agreements ?? [];
    const better = {
      ...two,
      name: 'Two good visits',
      discounts: { ...two?.discounts, part: '0.2' },
    };
    const draft = await changeDraft(service, await beginDraft(service), {
      agreements: [one, better],
    });
    const under = await preview(draft);
    const agreedTo = {
      code: 'two_visits',
      name: 'Two visits a year',
      discounts: { visit_fee: '0.25', labor: '0.1', access: '0.1', part: '0.1' },
    };
    expect(of(under)?.plan).toEqual({
      ...agreedTo,
      discounts: { ...agreedTo.discounts, part: '0.2' },
    });
    // A tenth more off 55.20 and its tax of 8.25 %: 49.68 was taxed 4.10, 44.16 is taxed 3.64.
    expect(optionOf(under, issued).differenceCents).toBe(-552 - 46);

    const without = await preview(await changeDraft(service, draft, { agreements: [one] }));
    expect(of(without)?.plan).toEqual(agreedTo);
    expect(optionOf(without, issued)).toMatchObject({ differenceCents: 0, notPriced: null });
    const others = without.quotes.filter(
      ({ quoteId }: PreviewedQuote) => quoteId !== issued.body.id,
    );
    expect(others.map(({ plan }: { plan: unknown }) => plan)).toEqual(others.map(() => null));
  });
});

describe('the old totals of a preview', () => {
  it('are those that the stored inputs give, and those that were told', async () => {
    const { rows } = await service.owner.query<{ inputs: unknown; told: number[] }>(`
      SELECT r.inputs, array_agg(o.total_cents ORDER BY o.position) AS told
      FROM quote_revision r JOIN quote_option o ON o.revision_id = r.id GROUP BY r.id, r.inputs::text`);
    for (const { inputs, told } of rows) {
      const result = currentPricingRuleset.priceQuote(pricingInputsSchema.parse(inputs));
      if (result.outcome === 'refused') throw new Error('a stored quote was priced');
      expect(result.quote.options.map(({ totalCents }) => totalCents)).toEqual(told);
    }
  });

  it('that were moved by a cent are noticed, and the option is not priced', async () => {
    const draft = await beginDraft(service);
    const client = await service.owner.connect();
    try {
      await client.query("SET session_replication_role = 'replica'");
      const move = (cents: number) =>
        client.query('UPDATE quote_option SET total_cents = total_cents + $1 WHERE id = $2', [
          cents,
          capacitor.body.options[0].id,
        ]);
      await move(1);
      const body = await preview(draft);
      await move(-1);
      expect(optionOf(body, capacitor).notPriced?.reason).toBe('not_as_stored');
      expect(optionOf(body, both).notPriced).toBeNull();
    } finally {
      await client.query('RESET session_replication_role');
      client.release();
    }
  });
});

describe('before any price book is in force', () => {
  it('a draft can be begun from a whole content, and compared with nothing', async () => {
    const empty = await createTestService({ withPriceBook: false });
    try {
      const { effectiveFrom: _, ...content } = priceBook;
      const as = empty.as('owner');
      const from = await as.post('/v1/price-book-drafts', { note: 'First', from: 'in_force' });
      expectProblem(from, 'no-price-book');
      const begun = await as.post('/v1/price-book-drafts', { note: 'First', content });
      const path = `/v1/price-book-drafts/${expectStatus(begun, 201).body.id}`;
      expectProblem(await as.get(`${path}/preview`), 'no-price-book');
      const published = await as.post(
        `${path}/publish`,
        { effectiveFrom: '2026-01-01T00:00:00Z' },
        { ifMatch: begun.headers['etag'] ?? '' },
      );
      expect(expectStatus(published, 200).body.state).toBe('published');
      expect((await as.get('/v1/price-books/in-force')).body.number).toBe(1);
    } finally {
      await empty.close();
    }
  });
});

interface PreviewedOption {
  oldTotalCents: number;
  newTotalCents: number | null;
  differenceCents: number | null;
  percent: string | null;
  notPriced: { reason: string; messages: string[] } | null;
}
interface PreviewedQuote {
  quoteId: string;
  number: number;
  plan: object | null;
  options: PreviewedOption[];
}

function optionOf(body: { quotes: PreviewedQuote[] }, quote: QuoteAt): PreviewedOption {
  const [option] = body.quotes.find(({ quoteId }) => quoteId === quote.body.id)?.options ?? [];
  if (option === undefined) throw new Error('the quote is not in the preview');
  return option;
}

function change(list: string, entry: string, field: string, before: number, after: number) {
  return { list, entry, change: 'changed', field, before, after };
}
