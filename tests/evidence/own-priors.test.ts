import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ownPriors } from '../../src/evidence/own-priors.ts';
import type { Sql } from '../../src/platform/database/database.ts';
import type { FaultCode } from '../../src/trade/index.ts';
import { findTrippedBreaker } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

// The clock of the tests stands at July 14, 2026; local midnight of July 1 is 05:00 UTC.
const june = '2026-06-20T15:00:00Z';
const lastMomentOfJune = '2026-07-01T04:59:59.999Z';
const july = '2026-07-01T05:00:00Z';

let service: TestService;
let job: Job;
let finding: { capacitor: string; breaker: string };
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  finding = {
    capacitor: await findCapacitor(service, job),
    breaker: await findTrippedBreaker(service, job),
  };
});
afterAll(() => service.close());

describe('how common a fault is for this company', () => {
  it('is common practice up to 499 of its own closed tickets, and from 500 on its own', async () => {
    await close(job, 498, june);
    await close(job, 1, lastMomentOfJune);
    await close(job, 1, july);
    const inJuly = await countAnew(service.clock.now());
    expect(inJuly.until).toBe('2026-07-01');
    expect(inJuly.priors).toMatchObject({ basis: 'common_practice', ticketCount: 499 });
    const inAugust = await countAnew(new Date('2026-08-01T05:00:00Z'));
    expect(inAugust.until).toBe('2026-08-01');
    expect(inAugust.priors).toMatchObject({ basis: 'own_tickets', ticketCount: 500 });
    const { shares } = inAugust.priors;
    expect(shares.run_capacitor_herm).toBeGreaterThan(inJuly.priors.shares.run_capacitor_herm);
  });

  it('is the same answer all month, whatever is closed meanwhile, and says up to which day', async () => {
    const advice = async () => {
      const path = `/v1/visits/${job.visitId}/assessment`;
      const answer = expectStatus(await service.as('technician').get(path), 200);
      return answer.body.systems[0].advice;
    };
    const first = await advice();
    expect(first.priors).toEqual({
      basis: 'common_practice',
      ticketCount: 499,
      until: '2026-07-01',
    });
    await close(job, 5, '2026-07-10T15:00:00Z');
    expect(await advice()).toEqual(first);
    expect((await countAnew(service.clock.now())).priors.ticketCount).toBe(499);
  });

  it('is the same answer again for a month long past', async () => {
    const before = await countAnew(new Date('2026-07-01T12:00:00Z'));
    await service.owner.query(`UPDATE ticket SET state = 'new' WHERE state = 'closed'`);
    await service.owner.query(
      `UPDATE ticket SET state = 'closed' WHERE first_closed_at IS NOT NULL`,
    );
    expect(await countAnew(new Date('2026-07-31T12:00:00Z'))).toEqual(before);
  });
});

describe('counting', () => {
  it('is done once a month, however many ask at the same moment', async () => {
    let statements = 0;
    const sql: Sql = {
      query: (text, values) => {
        statements += 1;
        return service.db.pool.query(text, values);
      },
    };
    const ask = (now: string) => ownPriors({ prisma: service.db.prisma, sql, now: new Date(now) });
    const answers = await Promise.all([july, july, '2026-07-20T12:00:00Z'].map(ask));
    expect(statements).toBe(1);
    expect(answers[1]).toEqual(answers[0]);
    await ask('2026-08-02T12:00:00Z');
    expect(statements).toBe(2);
  });

  it('that failed is done again when next it is asked for', async () => {
    let isDown = true;
    const sql: Sql = {
      query: (text, values) =>
        isDown ? Promise.reject(new Error('down')) : service.db.pool.query(text, values),
    };
    const ask = () => ownPriors({ prisma: service.db.prisma, sql, now: new Date(july) });
    await expect(ask()).rejects.toThrow('down');
    isDown = false;
    expect((await ask()).until).toBe('2026-07-01');
  });
});

describe('what counts', () => {
  const counts = async (work: () => Promise<unknown>): Promise<number> => {
    const before = (await countAnew(service.clock.now())).priors.ticketCount;
    await work();
    return (await countAnew(service.clock.now())).priors.ticketCount - before;
  };

  it('a ticket once for a fault, however often it was found', async () => {
    expect(await counts(() => close(job, 1, june, ['capacitor', 'capacitor']))).toBe(1);
  });

  it('the cause, not the symptom that came with it; the symptom where no cause was found', async () => {
    expect(await counts(() => close(job, 3, june, ['capacitor', 'breaker']))).toBe(3);
    expect(await counts(() => close(job, 3, june, ['breaker']))).toBe(3);
    const { priors } = await countAnew(service.clock.now());
    const without = await countAnew(new Date('2026-06-01T12:00:00Z'));
    const share = ({ shares }: typeof priors, fault: FaultCode) => shares[fault];
    expect(without.priors.ticketCount).toBe(0);
    expect(share(priors, 'tripped_breaker')).toBeLessThan(share(without.priors, 'tripped_breaker'));
  });

  it('nothing that is not proven', async () => {
    expect(await counts(() => close(job, 2, june, ['capacitor'], 'supported'))).toBe(0);
  });

  it('nothing found after that day, at the callback of a ticket closed before it', async () => {
    expect(await counts(() => close(job, 2, june, ['capacitor'], 'proven', july))).toBe(0);
  });

  it('no ticket that is still open', async () => {
    expect(await counts(() => close(job, 2, null))).toBe(0);
  });
});

/** As another process would: what this one has counted is not known to it. */
function countAnew(now: Date) {
  const sql: Sql = { query: (text, values) => service.db.pool.query(text, values) };
  return ownPriors({ prisma: service.db.prisma, sql, now });
}

let copies = 0;

/** Tickets like the one of the job, with its findings, closed at an instant or still open. */
async function close(
  { ticketId, visitId }: Job,
  count: number,
  closedAt: string | null,
  found: ('capacitor' | 'breaker')[] = ['capacitor'],
  standing = 'proven',
  foundAt = june,
): Promise<void> {
  for (let copy = 0; copy < count; copy += 1) {
    copies += 1;
    const [ticket, visit] = [copyId('a', copies), copyId('b', copies)];
    await copyRow('ticket', ticketId, {
      id: ticket,
      number: 100_000 + copies,
      state: closedAt === null ? 'work_complete' : 'closed',
      first_closed_at: closedAt,
    });
    await copyRow('visit', visitId, { id: visit, ticket_id: ticket, state: 'finished' });
    for (const [index, which] of found.entries()) {
      await copyRow('finding', finding[which], {
        id: copyId(`c${index}`, copies),
        visit_id: visit,
        standing,
        found_at: foundAt,
      });
    }
  }
}

function copyId(kind: string, number: number): string {
  return `00000000-0000-4000-8000-${kind}${String(number).padStart(12 - kind.length, '0')}`;
}

async function copyRow(table: string, id: string, change: object): Promise<void> {
  await service.owner.query(
    `INSERT INTO ${table} SELECT (jsonb_populate_record(t, $1::jsonb)).* FROM ${table} t WHERE id = $2`,
    [JSON.stringify(change), id],
  );
}
