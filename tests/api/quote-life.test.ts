import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  addFinding,
  arriveAtJob,
  bookJob,
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

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(async () => {
  await assertReprices(service);
  await service.close();
});

const NO = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off at the disconnect.' };

describe('a revision', () => {
  it('leaves the issued one standing until it is issued itself', async () => {
    const { job, found, quote } = await issuedQuote();
    const contactor = await findWornContactor(service, job);
    const revised = await act(quote, 'revise', options([found, contactor]));
    expect(revised.body).toMatchObject({
      revision: 2,
      state: 'draft',
      contentHash: null,
      revisions: [
        { revision: 1, state: 'issued' },
        { revision: 2, state: 'draft' },
      ],
    });
    const first = await read(quote, '?revision=1');
    expect(first.body).toMatchObject({ state: 'issued', contentHash: quote.body.contentHash });

    const issued = await act(revised, 'issue');
    expect(issued.body).toMatchObject({
      revision: 2,
      state: 'issued',
      revisions: [
        { revision: 1, state: 'superseded' },
        { revision: 2, state: 'issued' },
      ],
    });
    expect(issued.body.contentHash).not.toBe(quote.body.contentHash);
    const old = await answer(issued, 'accept', yesTo(quote));
    expectProblem(old, 'shown-content-changed');
  });

  it('that is still a draft is superseded by the next at once', async () => {
    const { found, quote } = await draftedQuote();
    const second = await act(quote, 'revise', options([found], 'Repair, worded better'));
    expect(second.body.revisions).toEqual([
      { revision: 1, state: 'superseded' },
      { revision: 2, state: 'draft' },
    ]);
    const issued = await act(second, 'issue');
    expect(issued.body).toMatchObject({ revision: 2, state: 'issued' });
  });

  it('is part of the tag: whoever read the quote before it has to read again', async () => {
    const { found, quote } = await issuedQuote();
    await act(quote, 'revise', options([found]));
    for (const verb of ['issue', 'withdraw'] as const) {
      expectProblem(await answer(quote, verb), 'version-changed');
    }
    expectProblem(await answer(quote, 'accept', yesTo(quote)), 'version-changed');
  });

  it('that waits as a draft does not keep the customer from accepting what stands', async () => {
    const { found, quote } = await issuedQuote();
    const revised = await act(quote, 'revise', options([found]));
    const accepted = await act(revised, 'accept', yesTo(quote));
    expect(accepted.body).toMatchObject({
      revision: 1,
      state: 'accepted',
      allowedActions: [],
      acceptance: { revision: 1, totalCents: quote.body.options[0].totalCents },
      revisions: [
        { revision: 1, state: 'accepted' },
        { revision: 2, state: 'superseded' },
      ],
    });
    expect(await listed(quote)).toMatchObject({ revision: 1, state: 'accepted' });
    expectNotAllowed(await answer(accepted, 'issue'), 'accepted');
  });

  it('that waits as a draft ends with the customer’s no', async () => {
    const { found, quote } = await issuedQuote();
    const revised = await act(quote, 'revise', options([found]));
    const declined = await act(revised, 'decline', NO);
    expect(declined.body).toMatchObject({
      revision: 1,
      state: 'declined',
      revisions: [
        { revision: 1, state: 'declined' },
        { revision: 2, state: 'superseded' },
      ],
    });
    expect(await listed(quote)).toMatchObject({ revision: 1, state: 'declined' });
    expectNotAllowed(await answer(declined, 'issue'), 'declined');
    expectNotAllowed(await answer(declined, 'revise', options([found])), 'declined');
  });
});

describe('a withdrawn quote', () => {
  it.each(['draft', 'issued'] as const)('was a %s one before', async (state) => {
    const { quote } = state === 'draft' ? await draftedQuote() : await issuedQuote();
    const withdrawn = await act(quote, 'withdraw');
    expect(withdrawn.body).toMatchObject({ state: 'withdrawn', allowedActions: [] });
    expectNotAllowed(await answer(withdrawn, 'withdraw'), 'withdrawn');
    expectNotAllowed(await answer(withdrawn, 'decline', NO), 'withdrawn');
  });

  it('leaves nothing standing: neither the newest revision nor the issued one', async () => {
    const { found, quote } = await issuedQuote();
    const revised = await act(quote, 'revise', options([found]));
    const withdrawn = await act(revised, 'withdraw');
    expect(withdrawn.body.revisions).toEqual([
      { revision: 1, state: 'withdrawn' },
      { revision: 2, state: 'withdrawn' },
    ]);
    expectNotAllowed(await answer(withdrawn, 'accept', yesTo(quote)), 'withdrawn');
  });
});

describe('a yes binds what was shown', () => {
  it('is refused when the total that was shown is another, by a single cent', async () => {
    const { quote } = await issuedQuote();
    const yes = yesTo(quote);
    for (const cents of [-1, 1]) {
      const shownTotalCents = quote.body.options[0].totalCents + cents;
      expectProblem(
        await answer(quote, 'accept', { ...yes, shownTotalCents }),
        'shown-content-changed',
      );
    }
    expect((await read(quote)).body).toMatchObject({ state: 'issued', acceptance: null });
  });

  it('is refused when the content that was shown is another', async () => {
    const { quote } = await issuedQuote();
    const shownContentHash = sha256('something else');
    expectProblem(
      await answer(quote, 'accept', { ...yesTo(quote), shownContentHash }),
      'shown-content-changed',
    );
  });

  it('is refused for an option of another revision, and of another quote', async () => {
    const { found, quote } = await issuedQuote();
    const other = await issuedQuote();
    const second = await act(await act(quote, 'revise', options([found])), 'issue');
    for (const optionId of [quote.body.options[0].id, other.quote.body.options[0].id]) {
      const refused = await answer(second, 'accept', { ...yesTo(second), optionId });
      expect(expectProblem(refused, 'unknown-reference').body.errors).toMatchObject([
        { pointer: '/optionId' },
      ]);
    }
  });

  it('is given once: a second one is refused, whatever tag it brings', async () => {
    const { quote } = await issuedQuote();
    const accepted = await act(quote, 'accept', yesTo(quote));
    expectNotAllowed(await answer(accepted, 'accept', yesTo(quote)), 'accepted');
    expectProblem(await answer(quote, 'accept', yesTo(quote)), 'version-changed');
    expectNotAllowed(await answer(accepted, 'decline', NO), 'accepted');
    expectNotAllowed(await answer(accepted, 'withdraw'), 'accepted');
  });

  it('is not given to a draft', async () => {
    const { quote } = await draftedQuote();
    const refused = await answer(quote, 'accept', {
      ...yesTo(quote),
      shownContentHash: sha256('nothing was shown'),
    });
    const body = expectNotAllowed(refused, 'draft');
    expect(body.allowedActions).toEqual(['issue', 'withdraw', 'revise']);
  });

  it('names one of several options, and only that total is bound', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const contactor = await findWornContactor(service, job);
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [
        { title: 'Both', findingIds: [capacitor, contactor] },
        { title: 'Only what stopped it', findingIds: [capacitor] },
      ],
    });
    expectStatus(drafted, 201);
    const quote = await issueQuote(service, at(drafted));
    const [both, one] = quote.body.options;
    expectProblem(
      await answer(quote, 'accept', { ...yesTo(quote), optionId: one.id }),
      'shown-content-changed',
    );
    const accepted = await act(quote, 'accept', {
      ...yesTo(quote),
      optionId: one.id,
      shownTotalCents: one.totalCents,
    });
    expect(accepted.body.acceptance).toMatchObject({
      optionId: one.id,
      totalCents: one.totalCents,
    });
    expect(both.totalCents).toBeGreaterThan(one.totalCents);
  });

  it('rests on a hash of everything the paper says, kept as canonical JSON', async () => {
    const { quote } = await issuedQuote();
    const kept = await service.owner.query<{ text: string }>(
      'SELECT paper::text AS text FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    const text = kept.rows[0]?.text ?? '';
    expect(sha256(text)).toBe(quote.body.contentHash);
    expect(canonicalJson(JSON.parse(text))).toBe(text);
    for (const said of ['Winifred Ashgrove', 'INVENTED-0417', '3 Thistle Court']) {
      expect(text).toContain(said);
    }
  });
});

describe('whose quote it is', () => {
  it('another technician neither sees nor touches it', async () => {
    const { found, quote } = await issuedQuote();
    const other = service.as('second_technician');
    const path = `/v1/quotes/${quote.body.id}`;
    expectProblem(await other.get(path), 'not-found');
    expectProblem(await other.get(`${path}/paper`), 'not-found');
    const bodies = {
      issue: {},
      withdraw: {},
      revise: options([found]),
      accept: yesTo(quote),
      decline: NO,
    };
    for (const [verb, body] of Object.entries(bodies)) {
      expectProblem(await other.post(`${path}/${verb}`, body, { ifMatch: quote.tag }), 'not-found');
    }
    const seen = await other.get(`/v1/quotes?ticketId=${quote.body.ticketId}`);
    expect(seen.body.items).toEqual([]);
  });

  it('is not made before the technician was on site', async () => {
    const job = await bookJob(service);
    const early = await service.as('owner').post('/v1/quotes', {
      visitId: job.visitId,
      ...options([]),
    });
    expectNotAllowed(early, 'booked');
  });

  it('is not made for a visit that does not exist', async () => {
    const nowhere = await service.as('technician').post('/v1/quotes', {
      visitId: '0190a000-0000-7000-8000-000000000000',
      ...options([]),
    });
    expect(expectProblem(nowhere, 'unknown-reference').body.errors).toMatchObject([
      { pointer: '/visitId' },
    ]);
  });

  it('has no two options of the same work, in whatever order', async () => {
    const job = await arriveAtJob(service);
    const found = [await findCapacitor(service, job), await findWornContactor(service, job)];
    const options = [
      { title: 'One', findingIds: found },
      { title: 'The same', findingIds: found.toReversed() },
    ];
    const drafted = await service
      .as('technician')
      .post('/v1/quotes', { visitId: job.visitId, options });
    expect(expectProblem(drafted, 'validation-failed').body.errors).toMatchObject([
      {
        pointer: '/options/1/findingIds',
        message: 'is the same work as option 1: a customer cannot choose between them',
      },
    ]);
  });

  it('can be made of nothing but the visit, which then costs the fee', async () => {
    const job = await arriveAtJob(service);
    const quote = await issueQuote(service, await draftQuote(service, job, []));
    expect(quote.body.options[0].totalCents).toBe(8_900);
    expectStatus(await service.as('technician').get(`/v1/quotes/${quote.body.id}/paper`), 200);
  });

  it('shows an unproven finding under its reason, as unproven', async () => {
    const job = await arriveAtJob(service);
    const id = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'trace_breaker_trip',
    });
    expectStatus(
      await service
        .as('owner')
        .post(`/v1/findings/${id}/override`, { reason: 'It trips at noon.' }),
      201,
    );
    const quote = await issueQuote(service, await draftQuote(service, job, [id]));
    const paper = await service.owner.query<{ paper: { findings: object[] } }>(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(paper.rows[0]?.paper.findings).toMatchObject([{ standing: 'unproven' }]);
  });
});

async function draftedQuote(): Promise<{ job: Job; found: string; quote: QuoteAt }> {
  const job = await arriveAtJob(service);
  const found = await findCapacitor(service, job);
  return { job, found, quote: await draftQuote(service, job, [found]) };
}

async function issuedQuote(): Promise<{ job: Job; found: string; quote: QuoteAt }> {
  const drafted = await draftedQuote();
  return { ...drafted, quote: await issueQuote(service, drafted.quote) };
}

function options(findingIds: string[], title = 'Repair') {
  return { options: [{ title, findingIds }] };
}

type Verb = 'revise' | 'issue' | 'withdraw' | 'accept' | 'decline';

function answer(quote: QuoteAt, verb: Verb, body: object = {}) {
  const path = `/v1/quotes/${quote.body.id}/${verb}`;
  return service.as('technician').post(path, body, { ifMatch: quote.tag });
}

type Answer = Awaited<ReturnType<typeof answer>>;

function at(response: Answer): QuoteAt {
  return { body: response.body, tag: response.headers['etag'] ?? '' };
}

async function act(quote: QuoteAt, verb: Verb, body: object = {}): Promise<QuoteAt> {
  return at(expectStatus(await answer(quote, verb, body), 200));
}

async function read(quote: QuoteAt, query = ''): Promise<QuoteAt> {
  const path = `/v1/quotes/${quote.body.id}${query}`;
  return at(expectStatus(await service.as('dispatcher').get(path), 200));
}

async function listed(quote: QuoteAt) {
  const list = await service.as('owner').get(`/v1/quotes?ticketId=${quote.body.ticketId}`);
  return list.body.items.find((each: { id: string }) => each.id === quote.body.id);
}

function expectNotAllowed(response: Answer, currentState: string) {
  const { body } = expectProblem(response, 'not-allowed-now');
  expect(body).toMatchObject({ currentState });
  return body;
}
