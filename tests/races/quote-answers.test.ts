import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { type Client, createTestService, type TestService } from '../harness/test-service.ts';
import {
  finishVisit,
  measureAfter,
  sell,
  sellCapacitor,
  sendClose,
  sendOutcome,
} from '../harness/work.ts';

/*
 * Answers that meet. Whoever acts on a quote holds its ticket, so any two acts on one ticket happen
 * one after the other, and the second one sees what the first one did.
 */

type Answer = Awaited<ReturnType<Client['post']>>;
const ROUNDS = 4;
const NO = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' };

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

function send(quote: QuoteAt, verb: string, body: object = {}): Promise<Answer> {
  return service
    .as('owner')
    .post(`/v1/quotes/${quote.body.id}/${verb}`, body, { ifMatch: quote.tag });
}

async function stateOf(quoteId: string): Promise<string> {
  const found = await service.owner.query<{ states: string }>(
    `SELECT string_agg(state::text, ' ' ORDER BY revision) AS states
     FROM quote_state WHERE quote_id = $1`,
    [quoteId],
  );
  return found.rows[0]?.states ?? '';
}

/** What an act may be told when another one came first. */
function expectTold(answers: Answer[]): void {
  for (const { status, body } of answers) {
    if (status < 300) continue;
    expect(['not-allowed-now', 'version-changed', 'price-outdated', 'price-refused']).toContain(
      body.code,
    );
  }
}

describe('a quote with work in it, answered by two at once', () => {
  const meetings = [
    {
      name: 'a yes and a yes leave one yes',
      second: (quote: QuoteAt) => send(quote, 'accept', yesTo(quote)),
      ends: ['accepted'],
    },
    {
      name: 'a yes and a withdrawal leave the one or the other',
      second: (quote: QuoteAt) => send(quote, 'withdraw'),
      ends: ['accepted', 'withdrawn'],
    },
    {
      name: 'a yes and a no leave the one or the other',
      second: (quote: QuoteAt) => send(quote, 'decline', NO),
      ends: ['accepted', 'declined'],
    },
  ];

  it.each(meetings)('$name', async ({ second, ends }) => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const job = await arriveAtJob(service);
      const finding = await findCapacitor(service, job);
      const quote = await issueQuote(service, await draftQuote(service, job, [finding]));
      const answers = await Promise.all([send(quote, 'accept', yesTo(quote)), second(quote)]);
      expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
      expectTold(answers);
      expect(ends).toContain(await stateOf(quote.body.id));
    }
  });

  it('issuing a draft that is edited meanwhile issues what was read, or nothing', async () => {
    const job = await arriveAtJob(service);
    const finding = await findCapacitor(service, job);
    for (let round = 0; round < ROUNDS; round += 1) {
      const draft = await draftQuote(service, job, [finding]);
      const options = [{ title: 'Nothing for now', findingIds: [] }];
      const answers = await Promise.all([send(draft, 'issue'), send(draft, 'revise', { options })]);
      expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
      expectTold(answers);
      expect(['issued', 'superseded draft']).toContain(await stateOf(draft.body.id));
    }
  });
});

describe('two change orders accepted at once', () => {
  it('charge the way in once: the second was priced as if it were closed, and is refused', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const job = await arriveAtJob(service);
      const root = await sell(service, job, []);
      const changes = [
        await offerChange(service, job, root, [await findCapacitor(service, job)]),
        await offerChange(service, job, root, [await findWornContactor(service, job)]),
      ];
      const answers = await Promise.all(
        changes.map((change) => send(change, 'accept', yesTo(change))),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
      const refused = answers.find(({ status }) => status === 409);
      expect(refused?.body.code).toBe('price-outdated');
      const access = await service.owner.query(
        `SELECT count(*)::int AS n FROM quote_line l
         JOIN quote_acceptance a ON a.option_id = l.option_id JOIN quote q ON q.id = a.quote_id
         WHERE q.ticket_id = $1 AND l.kind = 'access'`,
        [job.ticketId],
      );
      expect(access.rows).toEqual([{ n: 1 }]);
    }
  });

  it('of one finding sell it once', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const job = await arriveAtJob(service);
      const root = await sell(service, job, []);
      const drain = await findPluggedDrain(service, job);
      const changes = [
        await offerChange(service, job, root, [drain]),
        await offerChange(service, job, root, [drain]),
      ];
      const answers = await Promise.all(
        changes.map((change) => send(change, 'accept', yesTo(change))),
      );
      expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
      expect(answers.find(({ status }) => status !== 200)?.body.code).toBe('price-refused');
    }
  });
});

describe('a yes and the closing of its ticket at once', () => {
  /** A job done and ready to be closed, but for a change order that waits for its answer. */
  async function readyButFor(): Promise<{ job: Job; change: QuoteAt }> {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const drain = await findPluggedDrain(service, job);
    const reason = { outcome: 'not_done', reason: 'The customer wants to wait.' };
    await sendOutcome(service, job.visitId, sold, reason);
    const change = await offerChange(service, job, sold.quote, [drain]);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    return { job, change };
  }

  it('never leave accepted work on a closed ticket', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const { job, change } = await readyButFor();
      const [withdrawn, closed] = await Promise.all([
        round % 2 === 0 ? send(change, 'accept', yesTo(change)) : send(change, 'withdraw'),
        sendClose(service, job.ticketId),
      ]);
      expect(withdrawn.status).toBe(200);
      const ticket = await service.as('dispatcher').get(`/v1/tickets/${job.ticketId}`);
      const unfinished = await service.owner.query(
        `SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
         JOIN quote_line l ON l.option_id = a.option_id AND l.kind = 'labor'
         WHERE q.ticket_id = $1 AND NOT EXISTS (SELECT 1 FROM work_outcome w
           WHERE w.quote_id = q.id AND w.finding_id = ANY (l.finding_ids))`,
        [job.ticketId],
      );
      expect(closed.status).toBe(ticket.body.state === 'closed' ? 200 : 409);
      if (closed.status === 200) expect(unfinished.rows).toEqual([]);
      else expect(closed.body.code).toBe('work-not-recorded');
    }
  });
});
