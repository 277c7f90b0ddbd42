import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import type { CreditMemoPaper } from '../../src/documents/index.ts';
import { dollarsText } from '../../src/pricing/index.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import type { TaggedAnswer } from '../harness/whole-job.ts';
import { type BilledJob, billedJob, overcharge, overtax } from './billed-job.ts';
import { auditDepsOf, judged } from './judged.ts';

let service: TestService;
let deps: AuditDeps;
let job: BilledJob;

beforeAll(async () => {
  service = await createTestService();
  deps = auditDepsOf(service);
});
afterAll(() => service.close());

beforeEach(async () => {
  job = await billedJob(service);
  await overcharge(service, job, 4_000);
  await judged(deps);
});

describe('a flag that is accepted', () => {
  it('gives back to the cent what it says, by one memo, with a letter that says why', async () => {
    const flag = await openFlag(4_000);
    const accepted = await accept(flag);
    expect(accepted.body).toMatchObject({
      state: 'accepted',
      allowedActions: [],
      answer: {
        answer: 'accepted',
        creditMemos: [{ invoiceId: job.invoice.body.id, totalCents: 4_000 }],
        letter: { language: 'en', text: expect.stringContaining('$40.00') },
      },
    });
    const after = await readInvoice(service, job.invoice.body.id);
    expect(after.body.balanceCents).toBe(job.invoice.body.balanceCents);
    expect(after.body.totalCents).toBe(job.invoice.body.totalCents + 4_000);
  });

  it('takes along what other rules said of the same charge', async () => {
    await accept(await openFlag(4_000));
    const { items } = expectStatus(await flagsOf(job, 'open,gone'), 200).body;
    expect(items.map(({ state }: { state: string }) => state)).not.toContain('open');
    expect(expectStatus(await audited(), 200).body).toMatchObject({ overCents: 0 });
  });

  it('writes to whoever pays in Spanish, where that is their language', async () => {
    await service.owner.query("UPDATE customer SET language = 'es' WHERE id = $1", [
      job.customerId,
    ]);
    const { answer } = (await accept(await openFlag(4_000))).body;
    expect(answer.letter).toMatchObject({
      language: 'es',
      text: expect.stringContaining('Lamentamos el error.'),
    });
    const memo = await service.owner.query('SELECT paper FROM credit_memo WHERE id = $1', [
      answer.creditMemos[0].id,
    ]);
    expect(memo.rows[0].paper.inSpanish.reason).toMatch(/cargo/);
  });

  it('is accepted once by ten at the same moment', async () => {
    const flag = await openFlag(4_000);
    const answers = await Promise.all(Array.from({ length: 10 }, () => sendAccept(flag)));
    const statuses = answers.map(({ status }) => status).sort();
    expect(statuses).toEqual([200, ...Array.from({ length: 9 }, () => 412)]);
    const memos = await service.owner.query(
      'SELECT total_cents FROM credit_memo WHERE invoice_id = $1',
      [job.invoice.body.id],
    );
    expect(memos.rows).toEqual([{ total_cents: 4_000 }]);
  });

  it('is refused where its charge was credited meanwhile, before the audit knew of it', async () => {
    const flag = await openFlag(4_000);
    await creditLabor(4_000);
    expectProblem(await sendAccept(flag), 'not-allowed-now');
    await judged(deps);
    const now = tagged(expectStatus(await service.as('owner').get(pathOf(flag)), 200));
    expect(now.body.state).toBe('gone');
    const refused = expectProblem(await sendAccept(now), 'not-allowed-now');
    expect(refused.body).toMatchObject({ currentState: 'gone', allowedActions: [] });
  });

  it('is refused a second time, and so is its dismissal', async () => {
    const accepted = tagged(await accept(await openFlag(4_000)));
    const again = expectProblem(await sendAccept(accepted), 'not-allowed-now');
    expect(again.body).toMatchObject({ currentState: 'accepted' });
    expectProblem(await sendDismiss(accepted), 'not-allowed-now');
  });
});

describe('a flag of which only the tax is wrong', () => {
  it('gives back that tax and no charge, by a memo and a letter that name the tax alone', async () => {
    job = await billedJob(service);
    await overtax(service, job, 123);
    await judged(deps);
    const flag = await openFlag(123);
    expect(flag.body.corrections).toMatchObject([{ key: 'tax' }]);
    const { answer } = (await accept(flag)).body;
    expect(answer.creditMemos).toMatchObject([{ totalCents: 123 }]);
    const lines = await service.owner.query(
      `SELECT m.tax_cents, l.key, l.price_class, l.amount_cents
       FROM credit_memo m JOIN credit_memo_line l ON l.memo_id = m.id WHERE m.id = $1`,
      [answer.creditMemos[0].id],
    );
    expect(lines.rows).toEqual([
      { tax_cents: 123, key: 'tax', price_class: 'tax', amount_cents: 123 },
    ]);
    expect(answer.letter.text).toContain('The sales tax was more than is owed on this work.');
    expect(answer.letter.text.match(/^- .*$/gm)).toEqual([
      expect.stringMatching(/^- .*[Tt]ax.* \(now \$[\d.]+ instead of \$[\d.]+\): \$1\.23$/),
    ]);
    // The memo's paper says the same: what the tax was, what it is now, and the difference.
    const { rows } = await service.owner.query<{ paper: CreditMemoPaper }>(
      'SELECT paper FROM credit_memo WHERE id = $1',
      [answer.creditMemos[0].id],
    );
    const taxCents: number = job.invoice.body.taxCents;
    const [document] = rows[0]?.paper.documents ?? [];
    expect(document?.prices).toEqual({ kind: 'separated', lines: [] });
    expect(document?.taxes).toEqual([
      {
        label: expect.stringContaining(
          ` (now ${dollarsText(taxCents)} instead of ${dollarsText(taxCents + 123)})`,
        ),
        amountCents: 123,
      },
    ]);
    // What is left is what was owed all along, and nothing is left to flag.
    const after = await readInvoice(service, job.invoice.body.id);
    expect(after.body.balanceCents).toBe(job.invoice.body.balanceCents);
    expect(expectStatus(await audited(), 200).body).toMatchObject({ overCents: 0 });
    expect(expectStatus(await flagsOf(job, 'open'), 200).body.items).toEqual([]);
  });
});

describe('a flag of too little tax', () => {
  it('asks for a look, in the list of flags and on its ticket: nothing goes back', async () => {
    job = await billedJob(service);
    await overtax(service, job, -100);
    await judged(deps);
    const short = [expect.stringMatching(/^\$1\.00 of tax is short on quote \d+: /)];
    const { items } = expectStatus(await flagsOf(job, 'open'), 200).body;
    expect(items).toMatchObject([
      { rule: { code: 'tax_wrong', severity: 'look' }, overCents: 0, sentences: short },
    ]);
    const { rules, overCents } = expectStatus(await audited(), 200).body;
    expect(overCents).toBe(0);
    expect(rules.find(({ code }: { code: string }) => code === 'tax_wrong')).toMatchObject({
      ...{ severity: 'look', outcome: 'flagged', sentences: short },
    });
  });
});

describe('a flag that is dismissed', () => {
  it('moves no money, and stays dismissed with its reason', async () => {
    const flag = await openFlag(4_000);
    const dismissed = expectStatus(await sendDismiss(flag), 200);
    expect(dismissed.body).toMatchObject({
      state: 'dismissed',
      answer: { answer: 'dismissed', reason: 'Agreed by phone.', creditMemos: [], letter: null },
    });
    const after = await readInvoice(service, job.invoice.body.id);
    expect(after.body.balanceCents).toBe(job.invoice.body.balanceCents + 4_000);
    expectProblem(await sendAccept(tagged(dismissed)), 'not-allowed-now');
  });

  it('counts no more in what waits for an answer', async () => {
    // Two rules speak of one charge: whichever of those that wait asks for most is all that waits.
    const { items } = expectStatus(await flagsOf(job, 'open'), 200).body;
    const waiting: number[] = items.map((flag: { overCents: number }) => flag.overCents);
    expect(waiting.filter((overCents) => overCents > 0)).toHaveLength(2);
    while (waiting.length > 0) {
      const most = Math.max(...waiting);
      expect(await openCents()).toBe(most);
      expectStatus(await sendDismiss(await openFlag(most)), 200);
      waiting.splice(waiting.indexOf(most), 1);
    }
    expect(await openCents()).toBe(0);
  });

  it('counts in what all flags of a period come to, and no more in what waits for an answer', async () => {
    const before = await summed();
    const waiting = await openCents();
    const { items } = expectStatus(await flagsOf(job, 'open'), 200).body;
    for (const { overCents } of items) {
      if (overCents > 0) expectStatus(await sendDismiss(await openFlag(overCents)), 200);
    }
    const after = await summed();
    expect(waiting).toBeGreaterThan(0);
    expect(before.openCents - after.openCents).toBe(waiting);
    expect(after.overCents).toBe(before.overCents);
  });

  it('of the tax stays so after a memo, though the tax that is owed is another one', async () => {
    job = await billedJob(service);
    await overtax(service, job, 123);
    await judged(deps);
    expectStatus(await sendDismiss(await openFlag(123)), 200);
    await credit('part', 1_000);
    await judged(deps);
    const { items } = expectStatus(await flagsOf(job, 'open'), 200).body;
    expect(items).toEqual([]);
  });
});

describe('what the owner sees', () => {
  it('is every rule of a ticket, and what each charge would have come to', async () => {
    const { body } = expectStatus(await audited(), 200);
    expect(body.overCents).toBe(4_000);
    const labor = body.documents[0].charges.find(({ key }: { key: string }) =>
      key.startsWith('labor'),
    );
    expect(labor.leftCents - labor.wouldBeCents).toBe(4_000);
    const flagged = body.rules.filter(({ outcome }: { outcome: string }) => outcome === 'flagged');
    for (const { flagId, sentences } of flagged) {
      expect(flagId).not.toBeNull();
      expect(sentences.length).toBeGreaterThan(0);
    }
    expectProblem(
      await service.as('owner').get(`/v1/audit/tickets/${job.customerId}`),
      'not-found',
    );
  });

  it('is a period summed up rule by rule, and flags page by page', async () => {
    await accept(await openFlag(4_000));
    const { body } = expectStatus(await service.as('owner').get('/v1/audit?from=2026-01-01'), 200);
    expect(body.tickets.judged).toBeGreaterThan(0);
    expect(body.givenBackCents).toBeGreaterThanOrEqual(4_000);
    expect(body.rules.length).toBeGreaterThan(0);
    const nothing = await service.as('owner').get('/v1/audit?to=2020-01-01');
    expect(expectStatus(nothing, 200).body.tickets).toEqual({ ended: 0, judged: 0, flagged: 0 });
    const first = expectStatus(await service.as('owner').get('/v1/audit/flags?limit=1'), 200).body;
    const path = `/v1/audit/flags?limit=1&cursor=${first.nextCursor}`;
    const second = expectStatus(await service.as('owner').get(path), 200).body;
    expect(second.items[0].id < first.items[0].id).toBe(true);
    const theirs = `/v1/audit/flags?technicianId=${service.staff.technician.id}`;
    expect(expectStatus(await service.as('owner').get(theirs), 200).body.items).not.toEqual([]);
    const others = `/v1/audit/flags?technicianId=${service.staff.owner.id}`;
    expect(expectStatus(await service.as('owner').get(others), 200).body.items).toEqual([]);
  });

  it('is a run over all tickets that goes on, and one at a time', async () => {
    const started = expectStatus(await service.as('owner').post('/v1/audit/runs'), 201).body;
    expect(started).toMatchObject({ cause: 'asked', done: 0, finishedAt: null });
    expectProblem(await service.as('owner').post('/v1/audit/runs'), 'already-exists');
    const { runs } = expectStatus(await service.as('owner').get('/v1/audit'), 200).body;
    expect(runs[0]).toEqual(started);
  });
});

function audited() {
  return service.as('owner').get(`/v1/audit/tickets/${job.ticketId}`);
}

async function flagsOf({ ticketId }: BilledJob, state: string) {
  const answer = await service.as('owner').get(`/v1/audit/flags?limit=100&state=${state}`);
  answer.body.items = answer.body.items.filter(
    (each: { ticketId: string }) => each.ticketId === ticketId,
  );
  return answer;
}

/** What the summary of all days says. */
async function summed(): Promise<{ openCents: number; overCents: number }> {
  return expectStatus(await service.as('owner').get('/v1/audit'), 200).body;
}

async function openCents(): Promise<number> {
  const { rows } = await service.owner.query<{ open_cents: number }>(
    'SELECT open_cents FROM audit_judgement WHERE ticket_id = $1',
    [job.ticketId],
  );
  return rows[0]?.open_cents ?? -1;
}

/** The open flag of the job that comes to so much. */
async function openFlag(overCents: number): Promise<TaggedAnswer> {
  const { items } = expectStatus(await flagsOf(job, 'open'), 200).body;
  const found = items.find((each: { overCents: number }) => each.overCents === overCents);
  return tagged(expectStatus(await service.as('owner').get(`/v1/audit/flags/${found.id}`), 200));
}

function pathOf({ body }: TaggedAnswer): string {
  return `/v1/audit/flags/${body.id}`;
}

function sendAccept(flag: TaggedAnswer) {
  return service.as('owner').post(`${pathOf(flag)}/accept`, {}, { ifMatch: flag.tag });
}

async function accept(flag: TaggedAnswer) {
  return expectStatus(await sendAccept(flag), 200);
}

function sendDismiss(flag: TaggedAnswer) {
  const reason = { reason: 'Agreed by phone.' };
  return service.as('owner').post(`${pathOf(flag)}/dismiss`, reason, { ifMatch: flag.tag });
}

function creditLabor(amountCents: number): Promise<void> {
  return credit('labor', amountCents);
}

/** Goodwill on the first charge of a kind. */
async function credit(kind: string, amountCents: number): Promise<void> {
  const { body, tag } = await readInvoice(service, job.invoice.body.id);
  const line = body.documents[0].lines.find((each: { kind: string }) => each.kind === kind);
  const memo = {
    ...{ kind: 'goodwill', reason: 'We came late.' },
    lines: [{ document: 1, key: line.key, amountCents }],
  };
  const path = `/v1/invoices/${body.id}/credit-memos`;
  expectStatus(await service.as('owner').post(path, memo, { ifMatch: tag }), 201);
}
