import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import { continueRun } from '../../src/audits/continue-run.ts';
import type { BilledJob } from '../audits/billed-job.ts';
import { auditDepsOf, flaggedJob, judged, judgedAgain } from '../audits/judged.ts';
import { creditOf } from '../harness/invoice.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

const ROUNDS = 3;
/** Of each request, so that they meet in the database and not only on the wire. */
const TIMES = 3;

let service: TestService;
let deps: AuditDeps;
beforeAll(async () => {
  service = await createTestService();
  deps = auditDepsOf(service);
  // The first run is of no race.
  while (await continueRun(deps));
});
afterAll(() => service.close());

type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['post']>>;
interface Raced {
  job: BilledJob;
  flag: { id: string; tag: string };
  invoiceTag: string;
}

const accept = ({ flag }: Raced) => answer(flag, 'accept', {});
const dismiss = ({ flag }: Raced) => answer(flag, 'dismiss', { reason: 'Agreed by phone.' });

describe('owners who answer one flag while its ticket is judged', () => {
  const races: {
    name: string;
    requests: ((raced: Raced) => Promise<Answer>)[];
    /** What may stand afterwards: how the flag was answered, and each memo that was given. */
    ends: { answers: string[]; memos: number[] }[];
  }[] = [
    {
      name: 'accept and accept: one memo, one answer',
      requests: [accept],
      ends: [{ answers: ['accepted'], memos: [4_000] }],
    },
    {
      name: 'accept and dismiss: one of both',
      requests: [accept, dismiss],
      ends: [
        { answers: ['accepted'], memos: [4_000] },
        { answers: ['dismissed'], memos: [] },
      ],
    },
    {
      name: 'accept and credit of the same charge: given back once',
      requests: [accept, credit],
      ends: [
        { answers: ['accepted'], memos: [4_000] },
        { answers: [], memos: [4_000] },
      ],
    },
  ];

  it.each(races)(
    '$name, the others are told',
    async ({ requests, ends }) => {
      for (let round = 0; round < ROUNDS; round += 1) {
        const raced = await flagged();
        const sent = Array.from({ length: TIMES }, () => requests).flat();
        const [answers] = await Promise.all([
          Promise.all(sent.map((request) => request(raced))),
          Promise.all(Array.from({ length: TIMES }, () => judgedAgain(deps, raced.job))),
          judged(deps),
        ]);
        expectOneEffect(answers);
        expect(ends).toContainEqual(await standing(raced));
        await expectNothingLeft(raced, answers);
      }
    },
    180_000,
  );
});

describe('a run over all tickets beside owners who answer', () => {
  it('judges to the end, and every flag is answered once', async () => {
    const raced: Raced[] = [];
    for (let round = 0; round < ROUNDS; round += 1) raced.push(await flagged());
    expectStatus(await service.as('owner').post('/v1/audit/runs'), 201);
    const run = async () => {
      while (await continueRun(deps, 1));
    };
    const [answers] = await Promise.all([
      Promise.all(raced.flatMap((each) => [accept(each), accept(each)])),
      run(),
      run(),
    ]);
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(ROUNDS);
    for (const each of raced) {
      expect(await standing(each)).toEqual({ answers: ['accepted'], memos: [4_000] });
    }
    const { rows } = await service.owner.query(
      `SELECT count(*) FILTER (WHERE finished_at IS NULL)::int AS open,
         bool_and(done = total) AS whole FROM audit_run`,
    );
    expect(rows).toEqual([{ open: 0, whole: true }]);
  }, 180_000);
});

async function flagged(): Promise<Raced> {
  const { job, flagId, tag } = await flaggedJob(service, { deps });
  return { job, flag: { id: flagId, tag }, invoiceTag: (await invoiceOf(job)).tag };
}

function invoiceOf({ invoice }: BilledJob) {
  return readInvoice(service, invoice.body.id);
}

function answer({ id, tag }: Raced['flag'], verb: string, body: object): Promise<Answer> {
  return service.as('owner').post(`/v1/audit/flags/${id}/${verb}`, body, { ifMatch: tag });
}

/** Somebody gives back by hand what the flag is about. */
function credit({ job: { invoice }, invoiceTag }: Raced): Promise<Answer> {
  const path = `/v1/invoices/${invoice.body.id}/credit-memos`;
  const memo = creditOf(invoice, 'labor', 4_000);
  return service.as('owner').post(path, memo, { ifMatch: invoiceTag });
}

/** One happened; every other was told that somebody was first, or that it holds no more. */
function expectOneEffect(answers: readonly Answer[]): void {
  const done = answers.filter(({ status }) => status === 200 || status === 201);
  const refused = answers.filter((each) => !done.includes(each));
  expect(done).toHaveLength(1);
  for (const { status, text } of refused) expect([409, 412], text).toContain(status);
}

async function standing({ job, flag }: Raced) {
  const answers = await service.owner.query<{ answer: string }>(
    'SELECT answer FROM audit_answer WHERE flag_id = $1',
    [flag.id],
  );
  const memos = await service.owner.query<{ total_cents: number }>(
    'SELECT total_cents FROM credit_memo WHERE invoice_id = $1',
    [job.invoice.body.id],
  );
  return {
    answers: answers.rows.map((row) => row.answer),
    memos: memos.rows.map((row) => row.total_cents),
  };
}

/** Judged once more when all is over, the ticket has no open flag that asks for what was given back. */
async function expectNothingLeft({ job }: Raced, answers: readonly Answer[]): Promise<void> {
  await judged(deps);
  const gaveBack = answers.some(
    ({ status, body }) => status === 201 || (status === 200 && body.state === 'accepted'),
  );
  const { rows } = await service.owner.query<{ open: number }>(
    `SELECT coalesce(max(f.over_cents), 0)::int AS open FROM audit_flag f
     JOIN audit_flag_state s ON s.flag_id = f.id WHERE f.ticket_id = $1 AND s.state = 'open'`,
    [job.ticketId],
  );
  if (gaveBack) expect(rows).toEqual([{ open: 0 }]);
}
