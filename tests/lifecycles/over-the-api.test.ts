import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  auditFlagAnswers,
  invoiceActions,
  invoiceLifecycle,
  type Lifecycle,
  priceBookDraftLifecycle,
  quoteLifecycle,
  ticketLifecycle,
  visitLifecycle,
  warrantyClaimLifecycle,
} from '../../src/lifecycles/index.ts';
import { quoteRequests } from '../../src/quotes/index.ts';
import { ticketRequests } from '../../src/tickets/index.ts';
import { overcharge } from '../audits/billed-job.ts';
import { auditDepsOf, flaggedJob, judgedAgain } from '../audits/judged.ts';
import { warrantedPart } from '../harness/claims.ts';
import { beginDraft, type DraftAt, draftAt } from '../harness/draft.ts';
import {
  cash,
  closeSoldJob,
  creditOf,
  issueInvoice,
  move,
  sendIssue,
  sendMoney,
  sendVoid,
} from '../harness/invoice.ts';
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
  type Site,
  waitsForPart,
  yesTo,
} from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { tagged } from '../harness/tagged.ts';
import {
  type Client,
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let site: Site;
beforeAll(async () => {
  service = await createTestService();
  site = await addSite(service);
});
afterAll(() => service.close());

const REASON = { reason: 'The customer asked for it.' };

describe('every step of a visit', () => {
  const routes = {
    start_travel: ['start-travel', {}],
    arrive: ['arrive', {}],
    finish: ['finish', { ticketIs: 'work_complete' }],
    report_no_access: ['report-no-access', REASON],
    cancel: ['cancel', REASON],
  } as const;
  type Step = keyof typeof routes;
  const ways = {
    booked: [],
    on_the_way: ['start_travel'],
    on_site: ['start_travel', 'arrive'],
    finished: ['start_travel', 'arrive', 'finish'],
    no_access: ['start_travel', 'report_no_access'],
    cancelled: ['cancel'],
  } as const satisfies Record<string, readonly Step[]>;

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    const job = await bookJob(service, site);
    let tag = job.visitTag;
    for (const step of ways[from]) {
      tag = expectStatus(await take(job, step, tag), 200).headers['etag'] ?? '';
    }
    expectStep(await take(job, action, tag), visitLifecycle, from, action);
  });

  it('takes its ticket along, whether nobody was home before or after the arrival', async () => {
    for (const before of [['start_travel'], ['start_travel', 'arrive']] as const) {
      const job = await bookJob(service, site);
      let tag = job.visitTag;
      for (const step of [...before, 'report_no_access'] as const) {
        tag = expectStatus(await take(job, step, tag), 200).headers['etag'] ?? '';
      }
      const ticket = await service.as('dispatcher').get(`/v1/tickets/${job.ticketId}`);
      expect(ticket.body).toMatchObject({ state: 'new', closingNote: null });
    }
  });

  function take(job: Job, step: Step, tag: string) {
    const [verb, body] = routes[step];
    return service.as('owner').post(`/v1/visits/${job.visitId}/${verb}`, body, { ifMatch: tag });
  }
});

describe('every step of a ticket that has a route', () => {
  const ways = {
    new: newTicket,
    scheduled: async () => (await bookJob(service, site)).ticketId,
    in_progress: async () => (await arriveAtJob(service, site)).ticketId,
    waiting_for_part: () => finished('waiting_for_part'),
    waiting_for_answer: () => finished('waiting_for_answer'),
    work_complete: () => finished('work_complete'),
    resolved_by_phone: async () => {
      const id = await newTicket();
      expectStatus(await take(id, 'resolve_by_phone'), 200);
      return id;
    },
    cancelled: async () => {
      const id = await newTicket();
      expectStatus(await take(id, 'cancel'), 200);
      return id;
    },
  };
  const routes = { resolve_by_phone: true, cancel: true, book: true };

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    const id = await ways[from]();
    const answer = await take(id, action);
    if (action !== 'book' || answer.status !== 201) {
      expectStep(answer, ticketLifecycle, from, action, ticketRequests);
      return;
    }
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${id}`);
    expectStep(ticket, ticketLifecycle, from, action, ticketRequests);
  });

  it('names the visit to be cancelled first, when a ticket is not cancelled because of it', async () => {
    const job = await bookJob(service, site);
    const refused = await take(job.ticketId, 'cancel');
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      liveVisitId: job.visitId,
      detail: 'Cancel its visit first.',
    });
  });

  async function take(id: string, action: keyof typeof routes) {
    const dispatcher = service.as('dispatcher');
    const tag = (await dispatcher.get(`/v1/tickets/${id}`)).headers['etag'] ?? '';
    const path = `/v1/tickets/${id}`;
    switch (action) {
      case 'resolve_by_phone':
        return dispatcher.post(
          `${path}/resolve-by-phone`,
          {
            answers: [{ code: 'thermostat_calling_cooling', answer: 'no' }],
            whatHelped: 'Set to cool.',
          },
          { ifMatch: tag },
        );
      case 'cancel':
        return dispatcher.post(`${path}/cancel`, REASON, { ifMatch: tag });
      case 'book':
        return dispatcher.post('/v1/visits', {
          ticketId: id,
          technicianId: service.staff.technician.id,
          ...freeWindow(),
          ...(await tripOf(id)),
        });
    }
  }

  /** Whoever comes back with a part charges no second fee. */
  async function tripOf(id: string) {
    const { body } = await service.as('dispatcher').get(`/v1/tickets/${id}`);
    const isReturn = body.state === 'waiting_for_part';
    const toldFeeCents = isReturn ? 0 : 8_900;
    return {
      purpose: isReturn ? 'return' : 'call',
      feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
    };
  }

  async function newTicket(): Promise<string> {
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId: site.siteId, complaint: 'It does not cool.' });
    return expectStatus(opened, 201).body.id;
  }

  async function finished(ticketIs: string): Promise<string> {
    const job = await arriveAtJob(service, site);
    const path = `/v1/visits/${job.visitId}/finish`;
    const body = ticketIs === 'waiting_for_part' ? waitsForPart : { ticketIs };
    const end = await service.as('technician').post(path, body, { ifMatch: job.visitTag });
    expectStatus(end, 200);
    return job.ticketId;
  }
});

describe('every step of a quote that has a route', () => {
  const routes = {
    issue: () => ({}),
    accept: (quote: QuoteAt) => ({
      ...yesTo(quote),
      // A draft has no hash to be shown; any will do to be refused for the state.
      shownContentHash: quote.body.contentHash ?? '0'.repeat(64),
    }),
    decline: () => ({ declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' }),
    withdraw: () => ({}),
  };
  type Step = keyof typeof routes;
  const ways = {
    draft: [],
    issued: ['issue'],
    accepted: ['issue', 'accept'],
    declined: ['issue', 'decline'],
    withdrawn: ['issue', 'withdraw'],
  } as const satisfies Record<string, readonly Step[]>;

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    let quote = await draftedQuote();
    for (const step of ways[from]) {
      const moved = expectStatus(await take(quote, step), 200);
      quote = { body: moved.body, tag: moved.headers['etag'] ?? '' };
    }
    expectStep(await take(quote, action), quoteLifecycle, from, action, quoteRequests);
  });

  it.each(['accepted', 'declined', 'withdrawn'] as const)('%s: cannot be revised', async (from) => {
    let quote = await draftedQuote();
    for (const step of ways[from]) {
      const moved = expectStatus(await take(quote, step), 200);
      quote = { body: moved.body, tag: moved.headers['etag'] ?? '' };
    }
    const revised = await service
      .as('technician')
      .post(
        `/v1/quotes/${quote.body.id}/revise`,
        { options: [{ title: 'Again', findingIds: [] }] },
        { ifMatch: quote.tag },
      );
    expect(expectProblem(revised, 'not-allowed-now').body).toMatchObject({
      currentState: from,
      allowedActions: [],
    });
  });

  it('a quote that was issued keeps its one paper when issuing is tried again', async () => {
    const quote = await issueQuote(service, await draftedQuote());
    expectProblem(await take(quote, 'issue'), 'not-allowed-now');
    const issues = await service.owner.query(
      'SELECT content_hash AS hash FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(issues.rows).toEqual([{ hash: quote.body.contentHash }]);
  });

  function take(quote: QuoteAt, step: Step) {
    const path = `/v1/quotes/${quote.body.id}/${step}`;
    return service.as('technician').post(path, routes[step](quote), { ifMatch: quote.tag });
  }

  /** At a site of its own: the same work waits to be done on one ticket of a site. */
  async function draftedQuote(): Promise<QuoteAt> {
    const job = await arriveAtJob(service);
    return draftQuote(service, job, [await findCapacitor(service, job)]);
  }
});

describe('every step of a draft of the price book', () => {
  const routes = { change: null, publish: null, drop: null };
  type Step = keyof typeof routes;
  const ways = { open: [], published: ['publish'], dropped: ['drop'] } as const;

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    let draft = await beginDraft(service);
    for (const step of ways[from]) draft = draftAt(expectStatus(await take(draft, step), 200));
    expectStep(await take(draft, action), priceBookDraftLifecycle, from, action);
  });

  function take({ id, tag: ifMatch }: DraftAt, step: Step) {
    const owner = service.as('owner');
    const path = `/v1/price-book-drafts/${id}`;
    switch (step) {
      case 'change':
        return owner.patch(path, { note: 'Spring, again' }, { ifMatch });
      case 'publish':
        return owner.post(
          `${path}/publish`,
          { effectiveFrom: '2026-07-14T13:00:00Z' },
          { ifMatch },
        );
      case 'drop':
        return owner.post(`${path}/drop`, {}, { ifMatch });
    }
  }
});

describe('every step of an invoice', () => {
  const routes = { issue: null, pay: null, void_payment: null, refund: null, credit: null };
  type Step = keyof typeof routes;
  const ways = { draft: null, issued: null, settled: null };
  // Nothing was paid on a draft, so there is nothing to name that could be voided.
  const steps = stepsOf(ways, routes).filter(
    ({ from, action }) => from !== 'draft' || action !== 'void_payment',
  );

  it.each(steps)('$from + $action', async ({ from, action }) => {
    const at = await (action === 'refund' && from === 'issued' ? overpaid() : standing(from));
    const answer = await take(at, action);
    if (invoiceLifecycle.moves[from][action] === undefined) {
      expectStep(answer, invoiceLifecycle, from, action);
      return;
    }
    expect([200, 201]).toContain(answer.status);
    const { body } = await readInvoice(service, at.invoice.body.id);
    expect(body.state).toBe(body.balanceCents === 0 ? 'settled' : 'issued');
    expect(body.allowedActions).toEqual(invoiceActions(body.state, body));
  });

  it('says what its balance leaves to be done, and the refusal says what it is', async () => {
    const [owing, owed] = [await standing('issued'), await overpaid()];
    expect(owing.invoice.body.allowedActions).toEqual(['pay', 'void_payment', 'credit']);
    expect(owed.invoice.body.allowedActions).toEqual(['void_payment', 'refund', 'credit']);
    const nothingOwed = expectProblem(await take(owed, 'pay'), 'above-balance');
    expect(nothingOwed.body.detail).toBe('Nothing is owed.');
    const nothingOver = expectProblem(await take(owing, 'refund'), 'above-balance');
    expect(nothingOver.body.detail).toMatch(/^Nothing was overpaid: \$[\d.]+ is still owed\.$/);
  });

  it.each([
    ['draft', 'pay', 'Issue it first.'],
    ['settled', 'issue', 'It was issued before.'],
    ['settled', 'pay', 'It is settled: nothing is owed.'],
    ['settled', 'refund', 'It is settled: nothing was overpaid.'],
  ] as const)('%s + %s: says in words why not', async (from, action, detail) => {
    const refused = await take(await standing(from), action);
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toBe(detail);
  });

  interface At {
    invoice: QuoteAt;
    paymentId: string | undefined;
  }

  async function standing(state: keyof typeof ways): Promise<At> {
    const { draft } = await closeSoldJob(service);
    if (state === 'draft') return { invoice: draft, paymentId: undefined };
    const bill = await issueInvoice(service, draft);
    const amountCents = state === 'settled' ? bill.body.totalCents : 1_000;
    const { made, invoice } = await move(service, bill, 'payments', cash(amountCents));
    return { invoice, paymentId: made.id };
  }

  async function overpaid(): Promise<At> {
    const { invoice, paymentId } = await standing('settled');
    const credit = creditOf(invoice, 'labor', 500);
    return { ...(await move(service, invoice, 'credit-memos', credit)), paymentId };
  }

  function take({ invoice, paymentId }: At, step: Step) {
    switch (step) {
      case 'issue':
        return sendIssue(service, invoice);
      case 'pay':
        return sendMoney(service, invoice, 'payments', cash(1));
      case 'void_payment':
        return sendVoid(service, invoice, paymentId ?? '');
      case 'refund':
        return sendMoney(service, invoice, 'refunds', cash(1));
      case 'credit':
        return sendMoney(service, invoice, 'credit-memos', creditOf(invoice, 'part', 1));
    }
  }
});

describe('every step of a claim', () => {
  const happenedOn = '2026-07-14';
  const routes = {
    send: { registration: 'REG-77', oldPart: 'returned', happenedOn },
    credit: { amountCents: 2_175, reference: 'CM-9', happenedOn },
    refuse: { reason: 'Not registered in time.', happenedOn },
    withdraw: { reason: 'Of another house.', happenedOn },
  };
  type Step = keyof typeof routes;
  const ways = {
    open: [],
    sent: ['send'],
    credited: ['send', 'credit'],
    refused: ['send', 'refuse'],
    withdrawn: ['withdraw'],
  } as const satisfies Record<string, readonly Step[]>;

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    const partUse = `/v1/part-uses/${await warrantedPart(service)}`;
    let claim = expectStatus(await service.as('dispatcher').post(`${partUse}/claim`), 201);
    for (const step of ways[from]) claim = expectStatus(await take(claim, step), 200);
    expectStep(await take(claim, action), warrantyClaimLifecycle, from, action);
  });

  function take({ body, headers }: Awaited<ReturnType<Client['post']>>, step: Step) {
    const path = `/v1/claims/${body.id}/${step}`;
    const ifMatch = headers['etag'] ?? '';
    return service.as('dispatcher').post(path, routes[step], { ifMatch });
  }
});

describe('every step of a flag of the audit', () => {
  const routes = { accept: {}, dismiss: { reason: 'Agreed by phone.' } };
  type Step = keyof typeof routes;
  const ways = { open: [], accepted: ['accept'], dismissed: ['dismiss'], gone: [] } as const;

  it.each(stepsOf(ways, routes))('$from + $action', async ({ from, action }) => {
    const { job, flagId, tag } = await flaggedJob(service);
    let flag = { body: { id: flagId }, tag };
    for (const step of ways[from]) flag = tagged(expectStatus(await take(flag, step), 200));
    if (from === 'gone') {
      // No act leads there: what the flag was about is no more.
      await overcharge(service, job, -4_000);
      await judgedAgain(auditDepsOf(service), job);
      flag = tagged(expectStatus(await service.as('owner').get(`/v1/audit/flags/${flagId}`), 200));
    }
    expectStep(await take(flag, action), auditFlagAnswers, from, action);
  });

  function take({ body, tag: ifMatch }: QuoteAt, step: Step) {
    const path = `/v1/audit/flags/${body.id}/${step}`;
    return service.as('owner').post(path, routes[step], { ifMatch });
  }
});

function stepsOf<State extends string, Action extends string>(
  ways: Record<State, unknown>,
  routes: Record<Action, unknown>,
): { from: State; action: Action }[] {
  return (Object.keys(ways) as State[]).flatMap((from) =>
    (Object.keys(routes) as Action[]).map((action) => ({ from, action })),
  );
}

/** The answer to a step is what the table says: the new state, or the refusal that explains itself. */
function expectStep<State extends string, Action extends string>(
  answer: Awaited<ReturnType<ReturnType<TestService['as']>['post']>>,
  { moves }: Lifecycle<State, Action>,
  from: State,
  action: Action,
  named: (state: State) => string[] = (state) => Object.keys(moves[state]),
): void {
  const to = moves[from][action];
  if (to === undefined) {
    expect(expectProblem(answer, 'not-allowed-now').body).toMatchObject({
      status: 409,
      currentState: from,
      action,
      allowedActions: named(from),
    });
    return;
  }
  expect(expectStatus(answer, 200).body).toMatchObject({
    state: to,
    allowedActions: named(to),
  });
}
