import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import { continueRun } from '../../src/audits/continue-run.ts';
import { addSite } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { billedJob, overcharge } from './billed-job.ts';
import { auditDepsOf } from './judged.ts';
import { type AuditorOrders, MOMENTS, type Moment } from './mortal-auditor.ts';

// The process that judges is killed in the middle of a run over all tickets, and others go on.

/** Three pieces and the end of a fourth. */
const [TICKETS, TICKETS_MAX] = [7, 2];

let service: TestService;
let deps: AuditDeps;

beforeAll(async () => {
  service = await createTestService();
  deps = auditDepsOf(service);
  for (const byCents of [4_000, 2_500]) {
    await overcharge(service, await billedJob(service), byCents);
  }
  const { siteId } = await addSite(service);
  for (let made = 2; made < TICKETS; made += 1) await cancelledTicket(siteId);
  // A judgement never looks like that of the same facts, so that whoever judges a ticket once more
  // writes it once more.
  await service.owner.query(`
    CREATE FUNCTION forget_facts() RETURNS trigger LANGUAGE plpgsql AS
      $$ BEGIN NEW.facts_hash := repeat('0', 64); RETURN NEW; END $$`);
  await service.owner.query(`
    CREATE TRIGGER forget_facts BEFORE INSERT OR UPDATE ON audit_judgement
      FOR EACH ROW EXECUTE FUNCTION forget_facts()`);
}, 120_000);
afterAll(() => service.close());

describe.each(MOMENTS)('a process that is killed in its second piece (%s)', (moment) => {
  it('leaves a run that two others end: every ticket is judged once', async () => {
    const before = await timesJudged();
    const run = expectStatus(await service.as('owner').post('/v1/audit/runs'), 201).body;
    expect(run).toMatchObject({ done: 0, total: TICKETS });
    await dieAt(moment);
    // What was not committed was not done.
    const done = moment === 'committed' ? 2 * TICKETS_MAX : TICKETS_MAX;
    expect(await runOf(run.id)).toEqual({ done, finished: false });
    const half = [...(await timesJudged())];
    const timesMore = half.map(([id, times]) => times - (before.get(id) ?? 0));
    expect(timesMore.filter((times) => times > 0)).toEqual(Array(done).fill(1));

    await Promise.all([goOn(), goOn()]);
    expect(await runOf(run.id)).toEqual({ done: TICKETS, finished: true });
    const after = await timesJudged();
    expect(after.size).toBe(TICKETS);
    for (const [ticketId, times] of after) expect(times).toBe((before.get(ticketId) ?? 0) + 1);
    // However often it was begun, what is wrong is said once.
    const { rows } = await service.owner.query(
      `SELECT f.over_cents, s.state FROM audit_flag f
       JOIN audit_flag_state s ON s.flag_id = f.id WHERE f.rule_code = 'differs_from_book'
       ORDER BY 1`,
    );
    expect(rows).toEqual([
      { over_cents: 2_500, state: 'open' },
      { over_cents: 4_000, state: 'open' },
    ]);
    const ended = await service.owner.query(
      `SELECT event FROM journal_entry WHERE subject_id = $1 ORDER BY event DESC`,
      [run.id],
    );
    expect(ended.rows).toEqual([{ event: 'audit_run.started' }, { event: 'audit_run.finished' }]);
  });
});

async function goOn(): Promise<void> {
  while (await continueRun(deps, TICKETS_MAX));
}

/** Lets a process of its own go on with the run, and die in its second piece. */
async function dieAt(moment: Moment): Promise<void> {
  const orders: AuditorOrders = {
    ...{ databaseUrl: service.url, now: service.clock.now().toISOString() },
    ...{ ticketsMax: TICKETS_MAX, dieAt: moment, survives: 1 },
  };
  const program = fileURLToPath(new URL('mortal-auditor.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', program, JSON.stringify(orders)], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const [, signal] = await once(child, 'exit');
  expect(signal).toBe('SIGKILL');
}

async function cancelledTicket(siteId: string): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const call = { siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling'] };
  const made = expectStatus(await dispatcher.post('/v1/tickets', call), 201);
  const path = `/v1/tickets/${made.body.id}/cancel`;
  const ifMatch = made.headers['etag'] ?? '';
  expectStatus(await dispatcher.post(path, { reason: 'It runs again.' }, { ifMatch }), 200);
}

async function runOf(id: string) {
  const { rows } = await service.owner.query(
    'SELECT done, finished_at IS NOT NULL AS finished FROM audit_run WHERE id = $1',
    [id],
  );
  return rows[0];
}

async function timesJudged(): Promise<Map<string, number>> {
  const { rows } = await service.owner.query<{ ticket_id: string; version: number }>(
    'SELECT ticket_id, version FROM audit_judgement',
  );
  return new Map(rows.map(({ ticket_id, version }) => [ticket_id, version]));
}
