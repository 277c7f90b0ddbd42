import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addFinding,
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  issueQuote,
  type Job,
  type QuoteAt,
  type Site,
  waitsForPart,
  yesTo,
} from '../harness/job.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

const ROUNDS = 4;
/** Of each request, so that they meet in the database and not only on the wire. */
const TIMES = 4;

let service: TestService;
let site: Site;
let onSite: Job;
beforeAll(async () => {
  service = await createTestService();
  site = await addSite(service);
  onSite = await arriveAtJob(service, site);
});
afterAll(() => service.close());

type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['post']>>;
interface Request {
  path: string;
  body: object;
}

const NO = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off at the disconnect.' };

describe('two who answer, issue or take back one quote at once', () => {
  const races: {
    name: string;
    from: 'draft' | 'issued';
    requests: (quote: QuoteAt) => Request[];
    /** What may stand afterwards, revision by revision. */
    ends: string[];
  }[] = [
    {
      name: 'accept and accept',
      from: 'issued',
      requests: (quote) => [to(quote, 'accept', yesTo(quote)), to(quote, 'accept', yesTo(quote))],
      ends: ['accepted'],
    },
    {
      name: 'accept and decline',
      from: 'issued',
      requests: (quote) => [to(quote, 'accept', yesTo(quote)), to(quote, 'decline', NO)],
      ends: ['accepted', 'declined'],
    },
    {
      name: 'accept and withdraw',
      from: 'issued',
      requests: (quote) => [to(quote, 'accept', yesTo(quote)), to(quote, 'withdraw', {})],
      ends: ['accepted', 'withdrawn'],
    },
    {
      name: 'decline and decline',
      from: 'issued',
      requests: (quote) => [to(quote, 'decline', NO), to(quote, 'decline', NO)],
      ends: ['declined'],
    },
    {
      name: 'accept and revise',
      from: 'issued',
      requests: (quote) => [to(quote, 'accept', yesTo(quote)), to(quote, 'revise', nothing())],
      ends: ['accepted', 'issued draft'],
    },
    {
      name: 'issue and revise',
      from: 'draft',
      requests: (quote) => [to(quote, 'issue', {}), to(quote, 'revise', nothing())],
      ends: ['issued', 'superseded draft'],
    },
    {
      name: 'issue and issue',
      from: 'draft',
      requests: (quote) => [to(quote, 'issue', {}), to(quote, 'issue', {})],
      ends: ['issued'],
    },
    {
      name: 'revise and revise',
      from: 'draft',
      requests: (quote) => [to(quote, 'revise', nothing()), to(quote, 'revise', nothing())],
      ends: ['superseded draft'],
    },
  ];

  it.each(races)('$name: one happens, the other is told', async ({ from, requests, ends }) => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const quote = await quoteIn(from);
      const sent = Array.from({ length: TIMES }, () => requests(quote)).flat();
      const answers = await Promise.all(sent.map((request) => post(request, quote.tag)));
      expectOneEffect(answers);
      const states = await service.owner.query<{ states: string }>(
        `SELECT string_agg(state::text, ' ' ORDER BY revision) AS states
         FROM quote_state WHERE quote_id = $1`,
        [quote.body.id],
      );
      expect(ends).toContain(states.rows[0]?.states);
      await expectWholeQuote(quote.body.id);
    }
  });
});

describe('two quotes of one visit, both accepted at once', () => {
  it('leave one yes: the fee of a visit is owed once', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const job = await arriveAtJob(service, site);
      const quotes: QuoteAt[] = [];
      for (let each = 0; each < TIMES; each += 1) {
        quotes.push(await issueQuote(service, await draftQuote(service, job, [])));
      }
      const answers = await Promise.all(
        quotes.map((quote) => post(to(quote, 'accept', yesTo(quote)), quote.tag)),
      );
      expectOneEffect(answers);
      const accepted = await service.owner.query(
        `SELECT count(*)::int AS n FROM quote_acceptance JOIN quote q ON q.id = quote_id
         WHERE q.visit_id = $1`,
        [job.visitId],
      );
      expect(accepted.rows).toEqual([{ n: 1 }]);
    }
  });
});

describe('two who move one visit at once', () => {
  const races: {
    name: string;
    job: () => Promise<Job>;
    requests: (job: Job) => Request[];
    ends: string[];
  }[] = [
    {
      name: 'arrive and cancel',
      job: onTheWay,
      requests: (job) => [visit(job, 'arrive'), visit(job, 'cancel', { reason: 'Called off.' })],
      ends: ['on_site in_progress', 'cancelled new'],
    },
    {
      name: 'finish and finish, with different ends',
      job: () => arriveAtJob(service, site),
      requests: (job) => [
        visit(job, 'finish', { ticketIs: 'work_complete' }),
        visit(job, 'finish', waitsForPart),
      ],
      ends: ['finished work_complete', 'finished waiting_for_part'],
    },
    {
      name: 'start travel and cancel',
      job: () => bookJob(service, site),
      requests: (job) => [
        visit(job, 'start-travel'),
        visit(job, 'cancel', { reason: 'Called off.' }),
      ],
      ends: ['on_the_way scheduled', 'cancelled new'],
    },
  ];

  it.each(races)('$name: one happens, the other is told', async ({ job: make, requests, ends }) => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const job = await make();
      const sent = Array.from({ length: TIMES }, () => requests(job)).flat();
      const answers = await Promise.all(sent.map((request) => post(request, job.visitTag)));
      expectOneEffect(answers);
      const found = await service.owner.query<{ states: string }>(
        `SELECT v.state || ' ' || t.state AS states
         FROM visit v JOIN ticket t ON t.id = v.ticket_id WHERE v.id = $1`,
        [job.visitId],
      );
      expect(ends).toContain(found.rows[0]?.states);
    }
  });

  it('nothing is recorded at a visit that is being ended: it waits, and is then refused', async () => {
    const job = await arriveAtJob(service, site);
    const ending = await service.owner.connect();
    try {
      await ending.query('BEGIN');
      await ending.query("UPDATE visit SET state = 'finished' WHERE id = $1", [job.visitId]);
      const seen = { equipmentId: job.outdoorId, code: 'outdoor_fan_running', answer: 'yes' };
      const path = `/v1/visits/${job.visitId}/observations`;
      const answer = post({ path, body: { observations: [seen] } }, '*');
      await Promise.race([answer, somebodyWaits()]);
      await ending.query('COMMIT');
      const { status, body } = await answer;
      expect([status, body.currentState]).toEqual([409, 'finished']);
    } finally {
      ending.release();
    }
  });
});

describe('two owners who give a reason at once', () => {
  it('leave one reason on record', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const id = await addFinding(service, onSite, {
        equipmentId: site.outdoorId,
        faultCode: 'tripped_breaker',
        taskCode: 'reset_breaker',
      });
      const sent = Array.from({ length: 6 }, (_, at) => ({
        path: `/v1/findings/${id}/override`,
        body: { reason: `Reason ${at}` },
      }));
      const answers = await Promise.all(sent.map((request) => post(request, '*')));
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409, 409, 409]);
    }
  });
});

function to(quote: QuoteAt, verb: string, body: object): Request {
  return { path: `/v1/quotes/${quote.body.id}/${verb}`, body };
}

function visit(job: Job, verb: string, body: object = {}): Request {
  return { path: `/v1/visits/${job.visitId}/${verb}`, body };
}

function nothing() {
  return { options: [{ title: 'Nothing for now', findingIds: [] }] };
}

function post({ path, body }: Request, ifMatch: string): Promise<Answer> {
  return service.as('owner').post(path, body, { ifMatch });
}

async function quoteIn(state: 'draft' | 'issued'): Promise<QuoteAt> {
  const quote = await draftQuote(service, await arriveAtJob(service, site), []);
  return state === 'draft' ? quote : issueQuote(service, quote);
}

async function onTheWay(): Promise<Job> {
  const job = await bookJob(service, site);
  const moved = await post(visit(job, 'start-travel'), job.visitTag);
  return { ...job, visitTag: moved.headers['etag'] ?? '' };
}

/** Resolves when a session of this database waits for another one's lock. */
async function somebodyWaits(): Promise<void> {
  for (;;) {
    const waiting = await service.owner.query(
      `SELECT 1 FROM pg_stat_activity
       WHERE datname = current_database() AND wait_event_type = 'Lock'`,
    );
    if (waiting.rows.length > 0) return;
    await wait(10);
  }
}

/** Exactly one request did something; all others were refused for what it had changed. */
function expectOneEffect(answers: Answer[]): void {
  const done = answers.filter(({ status }) => status === 200);
  expect(done).toHaveLength(1);
  const refusals = answers.filter(({ status }) => status !== 200).map(({ body }) => body.code);
  expect(['not-allowed-now', 'version-changed']).toEqual(expect.arrayContaining(unique(refusals)));
}

function unique(values: string[]): string[] {
  return [...new Set(values)];
}

/** What must hold of a quote whatever happened to it. */
async function expectWholeQuote(quoteId: string): Promise<void> {
  const broken = await service.owner.query(BROKEN, [quoteId]);
  expect(broken.rows).toEqual([]);
}

const BROKEN = `
  SELECT 'an answer without its state' AS what FROM quote_acceptance a
    JOIN quote_state s USING (quote_id, revision) WHERE quote_id = $1 AND s.state <> 'accepted'
  UNION ALL SELECT 'a no without its state' FROM quote_decline d
    JOIN quote_state s USING (quote_id, revision) WHERE quote_id = $1 AND s.state <> 'declined'
  UNION ALL SELECT 'a state without its record' FROM quote_state s
    WHERE s.quote_id = $1 AND s.state IN ('issued', 'accepted', 'declined')
      AND NOT EXISTS (SELECT 1 FROM quote_issue i
        WHERE i.quote_id = s.quote_id AND i.revision = s.revision)
  UNION ALL SELECT 'two that stand' FROM quote_state s
    WHERE s.quote_id = $1 AND s.state IN ('issued', 'accepted') HAVING count(*) > 1
  UNION ALL SELECT 'an issue that did not happen' FROM quote_issue i
    JOIN quote_state s USING (quote_id, revision) WHERE quote_id = $1 AND s.state = 'draft'
  UNION ALL SELECT format('%s changes and %s entries', changes, entries) FROM (
    SELECT (SELECT count(*) FROM quote_state WHERE quote_id = $1)
        + (SELECT count(*) FROM quote_issue WHERE quote_id = $1)
        + (SELECT count(*) FROM quote_acceptance WHERE quote_id = $1)
        + (SELECT count(*) FROM quote_decline WHERE quote_id = $1)
        + (SELECT count(DISTINCT state) FROM quote_state
          WHERE quote_id = $1 AND state = 'withdrawn') AS changes,
      (SELECT count(*) FROM journal_entry WHERE subject_id = $1::text) AS entries) n
    WHERE entries <> changes`;
