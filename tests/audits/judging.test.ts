import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentAuditRuleset } from '../../src/auditing/index.ts';
import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import { continueRun } from '../../src/audits/continue-run.ts';
import { followJournal } from '../../src/audits/follow-journal.ts';
import { sealJournal } from '../../src/journal/seal-journal.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type BilledJob, billedJob, overcharge } from './billed-job.ts';
import { auditDepsOf, judged, judgedAgain } from './judged.ts';

let service: TestService;
let deps: AuditDeps;

beforeAll(async () => {
  service = await createTestService();
  deps = auditDepsOf(service);
});
afterAll(() => service.close());

describe('a ticket that is over', () => {
  let fair: BilledJob;
  let wrong: BilledJob;

  beforeAll(async () => {
    fair = await billedJob(service);
    wrong = await billedJob(service);
    await overcharge(service, wrong, 4_000);
  });

  it('is judged after the journal has told of its end, and flagged for what is wrong alone', async () => {
    await judged(deps);
    expect(await judgementOf(fair)).toMatchObject({ flag_count: 0, over_cents: 0 });
    const found = await flagsOf(wrong);
    expect(found.length).toBeGreaterThan(0);
    expect(Math.max(...found.map(({ over_cents }) => over_cents))).toBe(4_000);
    expect((await judgementOf(wrong))?.over_cents).toBe(4_000);
  });

  it('is not written again while its facts and the rules are the same', async () => {
    const before = await judgementOf(wrong);
    service.clock.advance(60_000);
    expect(await judge(wrong)).toBe(0);
    expect(await judgementOf(wrong)).toEqual(before);
  });

  it('has a flag that is gone when it no longer holds, and open again when it does', async () => {
    await overcharge(service, wrong, -4_000);
    expect(await judge(wrong)).toBe(1);
    expect(states(await flagsOf(wrong))).toEqual(['gone']);
    await overcharge(service, wrong, 4_000);
    expect(await judge(wrong)).toBe(1);
    expect(states(await flagsOf(wrong))).toEqual(['open']);
  });

  it('has no flag opened again that was answered, as long as it says the same', async () => {
    const [flag] = await flagsOf(wrong);
    await dismiss(flag?.id ?? '');
    await overcharge(service, wrong, 100);
    await judge(wrong);
    await overcharge(service, wrong, -100);
    await judge(wrong);
    const found = await flagsOf(wrong);
    expect(found.find(({ id }) => id === flag?.id)?.state).toBe('dismissed');
    expect(
      found.filter(({ over_cents }) => over_cents === 4_100).map(({ state }) => state),
    ).toEqual(found.filter(({ over_cents }) => over_cents === 4_100).map(() => 'gone'));
  });
});

describe('a flag that was dismissed', () => {
  it('answers for the same with less left of it, and for no more than that', async () => {
    const job = await billedJob(service);
    await overcharge(service, job, 2_500);
    await judged(deps);
    const flags = await flagsOf(job);
    for (const { id } of flags) await dismiss(id);
    await overcharge(service, job, -1_000);
    expect(await judge(job)).toBe(1);
    expect(states(await flagsOf(job))).toEqual(['dismissed']);
    await overcharge(service, job, 1_100);
    expect(await judge(job)).toBe(1);
    const open = (await flagsOf(job)).filter(({ state }) => state === 'open');
    expect(sorted(open)).toEqual(sorted(flags).map((overCents) => overCents + 100));
  });
});

describe('reading on in the journal', () => {
  it('judges again after a credit, and moves its place with what it judged', async () => {
    const job = await billedJob(service);
    await overcharge(service, job, 2_500);
    await judged(deps);
    expect(states(await flagsOf(job))).toEqual(['open']);
    const labor = job.invoice.body.documents[0].lines.find(
      ({ kind }: { kind: string }) => kind === 'labor',
    );
    const memo = {
      ...{ kind: 'goodwill', reason: 'We came late.' },
      lines: [{ document: 1, key: labor.key, amountCents: 2_500 }],
    };
    const path = `/v1/invoices/${job.invoice.body.id}/credit-memos`;
    expectStatus(await service.as('owner').post(path, memo, { ifMatch: job.invoice.tag }), 201);
    await judged(deps);
    expect(states(await flagsOf(job))).toEqual(['gone']);
    expect(await followJournal(deps)).toBe(0);
  });

  it('is done by one of several at a time, and loses nothing', async () => {
    const jobs = [await billedJob(service), await billedJob(service)];
    for (const job of jobs) await overcharge(service, job, 900);
    await sealJournal(service.db.pool);
    await Promise.all([followJournal(deps), followJournal(deps), followJournal(deps)]);
    await judged(deps);
    for (const job of jobs) expect(await judgementOf(job)).toMatchObject({ version: 1 });
    const place = await service.owner.query('SELECT position::int FROM audit_place');
    const last = await service.owner.query(
      'SELECT max(position)::int AS position FROM journal_seal',
    );
    expect(place.rows).toEqual(last.rows);
  });
});

describe('a run over all tickets', () => {
  it('begins by itself under rules that judged nothing yet, in pieces, and once', async () => {
    while (await continueRun(deps, 2));
    const runs = await service.owner.query('SELECT * FROM audit_run');
    expect(runs.rows).toMatchObject([
      { cause: 'ruleset', ruleset_version: currentAuditRuleset.version },
    ]);
    expect(runs.rows[0].done).toBe(runs.rows[0].total);
    expect(runs.rows[0].finished_at).not.toBeNull();
    expect(await continueRun(deps)).toBe(false);
  });

  it('goes on where it was stopped', async () => {
    await service.owner.query(
      `INSERT INTO audit_run (id, ruleset_version, cause, cursor, done, total, started_at)
       SELECT gen_random_uuid(), $1, 'ruleset', (SELECT id FROM ticket ORDER BY id LIMIT 1), 1,
         count(*), $2 FROM ticket`,
      [currentAuditRuleset.version, service.clock.now()],
    );
    // What the stopped one had judged is not looked at again.
    await service.owner.query('UPDATE audit_judgement SET facts_hash = $1', ['0'.repeat(64)]);
    while (await continueRun(deps, 2));
    const untouched = await service.owner.query(
      'SELECT ticket_id FROM audit_judgement WHERE facts_hash = $1',
      ['0'.repeat(64)],
    );
    const first = await service.owner.query('SELECT id FROM ticket ORDER BY id LIMIT 1');
    expect(untouched.rows).toEqual([{ ticket_id: first.rows[0].id }]);
  });

  it('is left to the program that knows its rules', async () => {
    await service.owner.query(
      `INSERT INTO audit_run (id, ruleset_version, cause, total, started_at)
       VALUES (gen_random_uuid(), 'auditing-99', 'ruleset', 9, $1)`,
      [service.clock.now()],
    );
    expect(await continueRun(deps)).toBe(false);
    const left = await service.owner.query(
      'SELECT done, finished_at FROM audit_run WHERE ruleset_version = $1',
      ['auditing-99'],
    );
    expect(left.rows).toEqual([{ done: 0, finished_at: null }]);
  });
});

function judge(job: BilledJob): Promise<number> {
  return judgedAgain(deps, job);
}

async function judgementOf({ ticketId }: BilledJob) {
  const { rows } = await service.owner.query('SELECT * FROM audit_judgement WHERE ticket_id = $1', [
    ticketId,
  ]);
  return rows[0];
}

interface FlagRow {
  id: string;
  state: string;
  over_cents: number;
}

async function flagsOf({ ticketId }: BilledJob): Promise<FlagRow[]> {
  const { rows } = await service.owner.query<FlagRow>(
    `SELECT f.id, f.over_cents, s.state FROM audit_flag f
     JOIN audit_flag_state s ON s.flag_id = f.id WHERE f.ticket_id = $1 ORDER BY f.id`,
    [ticketId],
  );
  return rows;
}

function states(flags: readonly FlagRow[]): string[] {
  return [...new Set(flags.map(({ state }) => state))];
}

function sorted(flags: readonly FlagRow[]): number[] {
  return flags.map(({ over_cents }) => over_cents).sort((one, other) => one - other);
}

async function dismiss(flagId: string): Promise<void> {
  const client = await service.owner.connect();
  try {
    await client.query('BEGIN');
    await client.query(
      `INSERT INTO audit_answer (flag_id, answer, reason, answered_at, answered_by_id)
       VALUES ($1, 'dismissed', 'Agreed by phone.', now(), $2)`,
      [flagId, service.staff.owner.id],
    );
    await client.query(
      `UPDATE audit_flag_state SET state = 'dismissed', version = version + 1 WHERE flag_id = $1`,
      [flagId],
    );
    await client.query('COMMIT');
  } finally {
    client.release();
  }
}
